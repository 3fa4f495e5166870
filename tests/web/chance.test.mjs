// How sure the times are, in a browser: the chance, the earlier start taken and taken back, an enquiry held against the demo.
// By hand: node --test tests/web/chance.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-chance-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

async function start(t, name, viewport = { width: 1440, height: 900 }) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { bypassCSP: true, viewport });
  const page = await open(context, site.url);
  await page.locator('h1').waitFor();
  await until(page, async () => (await window.airwright.call('list_jobs')).length > 0);
  const row = await page.evaluate(async () => (await window.airwright.call('list_jobs'))[0]);
  return { page, row };
}

const faults = async (page) => {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  return violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]);
};

test('the chance is said, an earlier start makes it sure, and is taken back', async (t) => {
  const { page, row } = await start(t, 'sure');
  const job = () => page.evaluate(async (id) => (await window.airwright.call('open_job', { id })).job, row.id);
  const plan = async () => page.evaluate(async (j) => window.airwright.compute('plan', { job: j }), await job());
  const first = await plan();
  assert.ok(first.chance.ready_pm > 0 && first.chance.ready_pm < 900, JSON.stringify(first.chance));
  // a load-in that holds nothing up, so that an earlier start helps
  const day = (await job()).times.ready_by.slice(0, 10);
  await page.evaluate(async ([id, at]) => window.airwright.call('edit_job', { id, label: 'load-in', edits: [{ op: 'set', part: 'job', path: ['times', 'load_in'], value: at }] }), [row.id, `${day}T07:00`]);
  await page.evaluate((id) => (location.hash = `#/job/${id}/times`), row.id);
  const chance = page.locator('section.chance');
  await chance.waitFor({ timeout: 30000 });
  const then = await plan();
  assert.ok(then.chance.earlier_s > 0, JSON.stringify(then.chance));
  await chance.getByText(`${Math.round(then.chance.ready_pm / 10)} days in 100`).first().waitFor({ timeout: 15000 });
  await chance.getByRole('button', { name: /^Make it / }).click();
  await until(page, async (id) => (await window.airwright.call('open_job', { id })).job.times.early_min > 0, row.id);
  assert.equal((await job()).times.early_min, Math.ceil(then.chance.earlier_s / 60));
  const after = await plan();
  assert.ok(after.chance.ready_pm >= 860, `${after.chance.ready_pm} after ${then.chance.then_pm} was said`);
  assert.ok(after.figures.start_by_ms < then.figures.start_by_ms);
  await chance.getByText('Planned to be over by').waitFor({ timeout: 15000 });
  assert.deepEqual(await faults(page), []);
  const room = chance.getByRole('spinbutton', { name: 'Room for a slow day' });
  await room.fill('0');
  await room.press('Tab');
  await until(page, async (id) => (await window.airwright.call('open_job', { id })).job.times.early_min === 0, row.id);
  // one task's own spread stands in its sheet
  await page.locator('[data-task="carry"]').first().click();
  await page.getByRole('dialog').getByText('on eight days of ten').waitFor({ timeout: 15000 });
});

test('a pinned task that holds the work up is named, and taken off; one more person is not praised for it', async (t) => {
  const { page, row } = await start(t, 'pinned', { width: 820, height: 1180 });
  const job = () => page.evaluate(async (id) => (await window.airwright.call('open_job', { id })).job, row.id);
  const edit = (edits) => page.evaluate(async ([id, all]) => window.airwright.call('edit_job', { id, label: 'changed', edits: all }), [row.id, edits]);
  const plan = async () => page.evaluate(async (j) => window.airwright.compute('plan', { job: j }), await job());
  const day = (await job()).times.ready_by.slice(0, 10);
  await edit([{ op: 'set', part: 'job', path: ['times', 'load_in'], value: `${day}T07:00` }]);
  const task = (await plan()).tasks.filter((x) => x.id.startsWith('hang')).at(-1);
  assert.ok(task);
  const zone = (await job()).venue.zone;
  const wall = new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short', timeStyle: 'short' }).format(task.start_ms + 300_000).replace(' ', 'T');
  await edit([{ op: 'add', part: 'job', path: ['pins'], id: 'held', value: { task: task.id, at: wall } }]);
  await page.reload();
  await page.evaluate((id) => (location.hash = `#/job/${id}/times`), row.id);
  const chance = page.locator('section.chance');
  await chance.getByText(`It is held up by what is pinned: ${task.title}.`).waitFor({ timeout: 60_000 });
  assert.doesNotMatch(await chance.innerText(), /One more person|one more person/);
  if (process.env.AIRWRIGHT_SHOTS) await page.screenshot({ path: join(process.env.AIRWRIGHT_SHOTS, 'pinned.png') });
  assert.deepEqual(await faults(page), []);
  await chance.getByRole('button', { name: 'Take the pin off' }).click();
  await until(page, async (id) => (await window.airwright.call('open_job', { id })).job.pins.held.gone, row.id);
  await chance.getByText(/^Begin .* earlier for 9\d days in 100/).waitFor({ timeout: 60_000 });
});

test('an enquiry at the hour of another job is a yes with a condition, and the job made of it clashes with nobody', async (t) => {
  const { page, row } = await start(t, 'enquiry', { width: 820, height: 1180 });
  const ready = await page.evaluate(async (id) => (await window.airwright.call('open_job', { id })).job.times.ready_by, row.id);
  await page.evaluate(() => (location.hash = '#/jobs/quick'));
  await page.getByText('Enter when it must stand, and it is held against').waitFor({ timeout: 30000 });
  assert.deepEqual(await faults(page), []);
  await page.evaluate(async () => {});
  const field = page.locator('input[type="datetime-local"]');
  if ((await field.count()) > 0) await field.first().fill(ready);
  else {
    await page.locator('input[type="date"]').first().fill(ready.slice(0, 10));
    await page.locator('input[type="time"]').first().fill(ready.slice(11));
  }
  await page.keyboard.press('Tab');
  await page.getByText('Yes, if').waitFor({ timeout: 30000 });
  assert.ok((await page.getByText('also wanted by').count()) > 0);
  assert.deepEqual(await faults(page), []);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0);
  await page.getByRole('button', { name: /Make a job this way.*instead of/ }).first().click();
  await page.waitForURL(/#\/job\//);
  const left = await page.evaluate(async () => {
    const rows = (await window.airwright.call('list_jobs'));
    const jobs = [];
    for (const r of rows) jobs.push((await window.airwright.call('open_job', { id: r.id })).job);
    return (await window.airwright.compute('clashes', { jobs })).clashes.filter((c) => c.kind === 'person');
  });
  assert.deepEqual(left, []);
});
