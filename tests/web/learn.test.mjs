// Learning from timed steps, in a browser: what three jobs say is taken for this job, and then kept for new ones.
// By hand: node --test tests/web/learn.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-learn-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

test('a rate and a pace from timed steps are used in the job, kept for new jobs, and taken back', async (t) => {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, 'profile'), { bypassCSP: true, viewport: { width: 820, height: 1180 } });
  const page = await open(context, site.url);
  page.setDefaultTimeout(30000);
  await page.locator('h1').waitFor();
  // three jobs in which every step took a fifth longer than planned, and twice as long where Ada was alone with it
  const id = await page.evaluate(async () => {
    const { call, compute } = window.airwright;
    let last = '';
    for (const today of ['2027-06-01', '2027-06-08', '2027-06-15']) {
      ({ id: last } = await call('create_demo', { today }));
      const { job } = await call('open_job', { id: last });
      const plan = await compute('plan', { job });
      for (const step of plan.steps) {
        const who = step.who.length === 1 ? step.who[0] : '';
        await call('tick', { id: last, step: step.id, done: true, skipped: false, quantity: step.quantity, what: step.title, who, took_s: Math.round(step.duration_s * (who === 'Ada' ? 2 : 1.2)) });
      }
    }
    return last;
  });
  await page.evaluate((job) => (location.hash = `#/job/${job}/times`), id);
  await page.reload();
  await page.getByRole('button', { name: 'Look at earlier jobs' }).click();
  const rates = page.locator('section', { has: page.locator('#own-rates') });
  await rates.getByRole('button', { name: /^Use it/ }).first().waitFor();
  const before = await page.evaluate(async () => (await window.airwright.call('open_books')).books);

  // a rate
  const rate = rates.locator('li', { has: page.getByRole('button', { name: /^Use it/ }) }).first();
  const name = (await rate.locator('b').innerText()).split(':')[0];
  const row = rates.locator('li', { hasText: name }).first();
  assert.equal(await row.getByRole('button', { name: /^Keep for new jobs/ }).count(), 0, 'first it is used here');
  await row.getByRole('button', { name: /^Use it/ }).click();
  await row.getByText('in use').waitFor();
  await row.getByRole('button', { name: /^Keep for new jobs/ }).click();
  await row.getByRole('button', { name: /^Keep for new jobs/ }).waitFor({ state: 'detached' });
  const kept = await page.evaluate(async () => (await window.airwright.call('open_books')).books.rates);
  const changed = Object.keys(kept).filter((field) => kept[field] !== before.rates[field]);
  assert.equal(changed.length, 1, `${changed}`);
  const job = await page.evaluate(async (job) => (await window.airwright.call('open_job', { id: job })).job, id);
  assert.equal(kept[changed[0]], job.rates[changed[0]]);
  // taken back by the strip
  await page.getByRole('button', { name: 'Undo' }).last().click();
  await until(page, async ([field, value]) => (await window.airwright.call('open_books')).books.rates[field] === value, [changed[0], before.rates[changed[0]]]);

  // Ada's own pace: used here, kept in People and kit
  const ada = rates.locator('li', { hasText: /^Ada at / });
  const slow = ada.filter({ has: page.getByRole('button', { name: /^Use it/ }) }).first();
  const said = (await slow.locator('b').innerText()).replace(/\s/g, ' ');
  const pace = Number(/: (\d+)/.exec(said)[1]);
  assert.ok(pace < 95, said);
  const hers = ada.filter({ hasText: said.split(':')[0] }).first();
  await hers.getByRole('button', { name: /^Use it/ }).click();
  await hers.getByRole('button', { name: /^Keep for new jobs/ }).click();
  await until(
    page,
    async (value) => {
      const { people } = (await window.airwright.call('open_books')).books;
      const ada = Object.values(people).find((p) => p.name === 'Ada');
      return ['blow_pct', 'string_pct', 'room_pct', 'carry_pct'].some((field) => ada[field] === value);
    },
    pace,
  );
});
