// The day goes wrong on purpose, with no network: the van is late and somebody is ill. By hand: node --test tests/web/late.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, controlled, launch, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-late-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

test('a late van and a person who is ill: one answer, from now on, in every room', async (t) => {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, 'late'), { viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await open(context, site.url);
  assert.ok(await controlled(page));
  await site.stop();
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  const at = await page.evaluate(async (job) => (await window.airwright.call('open_job', { id: job })).job.times.load_in, id);
  const day = at.slice(0, 10);
  // two or three hours before the load-in, whether the venue's clock is in summer or winter
  await page.clock.setFixedTime(new Date(`${at}Z`).getTime() - 2 * 3600_000);
  const go = (part) => page.evaluate((h) => (location.hash = h), `#/job/${id}/${part}`);
  await page.reload();
  await mode(page, 'owner');
  await go('site');
  await page.getByText('Van late, somebody ill?').click();
  await page.evaluate(async ([job, wall]) => {
    const pin = { op: 'add', part: 'job', path: ['pins'], id: 'carry', value: { task: 'carry', at: wall } };
    await window.airwright.call('edit_job', { id: job, label: 'The van comes at 12:40', edits: [pin] });
  }, [id, `${day}T12:40`]);
  await page.getByRole('button', { name: / cannot come$/ }).last().click();
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.crew).filter((p) => !p.gone).length === 1, id);
  await go('times');
  await page.getByText('Why it is late').first().waitFor({ timeout: 30000 });
  const shot = process.env.AIRWRIGHT_SHOTS;
  if (shot) await page.screenshot({ path: join(shot, 'times.png'), fullPage: false });
  const said = await page.locator('main').innerText();
  // the plan's own answers are not beside it: they would say that it holds
  for (const old of [/\bstart by\b/, /load-in begins/, /are enough|alone is enough/, /days in 100/, /Begin 15 min earlier/]) assert.doesNotMatch(said, old);
  assert.match(said, /ready at/);
  // what takes two is said for one
  assert.match(await page.locator('body').innerText(), /finding/);
  const ready = (await page.getByText('ready at').first().locator('..').innerText()).match(/\d\d:\d\d/)?.[0];
  assert.ok(ready);
  if (shot) {
    await page.evaluate(() => document.querySelector('main')?.scrollTo(0, 700));
    await page.screenshot({ path: join(shot, 'times2.png') });
  }
  await page.evaluate(AXE);
  const faults = await page.evaluate(async () => (await window.axe.run()).violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(' ')}`));
  assert.deepEqual(faults, []);
  await go('site');
  await page.locator('#step-now').waitFor();
  if (shot) await page.screenshot({ path: join(shot, 'site.png') });
  assert.match(await page.locator('body').innerText(), new RegExp(ready));
});
