// Jobs that want the same people: three at one hour cannot be done, a weekend with short nights says each night. In a browser, at a telephone's size.
// By hand: node --test tests/web/together.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const SHOTS = process.env.AIRWRIGHT_SHOTS;
const root = mkdtempSync(join(tmpdir(), 'airwright-together-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** A page with the demo and two copies of it, each so many days later. */
async function three(t, name, later) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { bypassCSP: true, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = await open(context, site.url);
  await until(page, async () => (await window.airwright.call('list_jobs')).length > 0);
  const ids = await page.evaluate(async (days) => {
    const { call } = window.airwright;
    const [first] = await call('list_jobs');
    const { job } = await call('open_job', { id: first.id });
    const ids = [first.id];
    for (const n of days) {
      const { id } = await call('copy_job', { id: first.id, name: `Job ${ids.length + 1}` });
      ids.push(id);
      const moved = (wall) => new Date(Date.parse(`${wall}:00Z`) + n * 86_400_000).toISOString().slice(0, 16);
      const edits = Object.entries(job.times).filter(([, wall]) => typeof wall === 'string' && wall !== '')
        .map(([field, wall]) => ({ op: 'set', part: 'job', path: ['times', field], value: moved(wall) }));
      edits.push({ op: 'set', part: 'job', path: ['stage'], value: 'booked' });
      await call('edit_job', { id, label: 'moved', edits });
    }
    return ids;
  }, later);
  await page.reload();
  const go = (hash) => page.evaluate((h) => (location.hash = h), hash);
  const shot = async (as) => SHOTS && (await page.screenshot({ path: join(SHOTS, `${name}-${as}.png`) }));
  return { page, ids, go, shot };
}

const faults = async (page) => {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  return violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]);
};

test('three jobs at one hour: red, first and counted in Jobs, and no head of Times says that they are enough', async (t) => {
  const { page, ids, go, shot } = await three(t, 'hour', [0, 0]);
  await go('#/jobs');
  const needs = page.locator('section[aria-labelledby="jobs-needs"]');
  const first = needs.locator('.finding').first();
  await first.getByText('at once').waitFor({ timeout: 120_000 });
  assert.match(await first.getAttribute('class'), /\bstop\b/);
  await shot('jobs');
  // one card and the first job are seen without scrolling
  assert.equal(await needs.locator('.finding').count(), 1);
  const seen = await page.evaluate(() => {
    const { top, left } = document.querySelector('section.day li b').getBoundingClientRect();
    return { top, hit: document.elementFromPoint(left + 5, top + 15)?.closest('section.day') !== null };
  });
  assert.ok(seen.hit, `the name of the first job stands at ${seen.top} px and is not seen`);
  assert.deepEqual(await faults(page), []);
  const more = needs.getByRole('button', { name: /^Show all/ });
  const n = Number((await more.innerText()).match(/\d+/)?.[0]);
  await more.click();
  assert.equal(await needs.locator('.finding').count(), n);
  assert.equal(await needs.locator('.finding.stop', { hasText: 'at once' }).count(), 3);
  for (const id of ids) {
    await go(`#/job/${id}/times`);
    const verdict = page.locator('.verdict').first();
    await until(page, async () => /does not work/.test(document.querySelector('main .verdict')?.textContent ?? ''));
    assert.match(await verdict.innerText(), /Ada.*also wanted by/);
    const said = await page.locator('main').innerText();
    assert.doesNotMatch(said, /are enough|alone is enough/);
    assert.match(said, /If nobody were wanted elsewhere: Ready by/);
    await shot(`times-${ids.indexOf(id)}`);
  }
  // whoever prints a call sheet is told that it knows nothing of the other jobs
  await go(`#/job/${ids[2]}/papers`);
  await page.locator('main').getByText('The papers speak as if nobody were wanted elsewhere.').waitFor({ timeout: 30_000 });
  await page.locator('main').getByText(/also wanted by/).first().waitFor();
  assert.deepEqual(await faults(page), []);
  await go(`#/job/${ids[2]}/times`);
  await page.getByRole('button', { name: 'Compare' }).click();
  await page.getByText('Each counts on people or things that another job wants').waitFor({ timeout: 60_000 });
  // among the findings: "See Times" while one is in Times goes to the row
  await page.getByRole('button', { name: /open the list/i }).or(page.locator('.tape .finds')).first().click();
  const dialog = page.getByRole('dialog');
  const row = dialog.locator('.finding', { hasText: 'also wanted by' }).first();
  const message = await row.getAttribute('data-finding');
  await row.getByRole('link', { name: 'See Times' }).or(row.getByRole('button', { name: 'See Times' })).first().click();
  await until(page, async (m) => document.activeElement?.dataset.finding === m && !document.activeElement.closest('dialog'), message);
  const box = await page.evaluate(() => document.activeElement.getBoundingClientRect().toJSON());
  assert.ok(box.top >= 0 && box.top < 844, JSON.stringify(box));
  await shot('row');
  assert.deepEqual(await faults(page), []);
});

test('one of two jobs at one hour is moved to another day whole, which is one step of undo, and nothing clashes', async (t) => {
  const { page, ids, go, shot } = await three(t, 'move', [0]);
  const times = () => page.evaluate(async (id) => (await window.airwright.call('open_job', { id })).job.times, ids[1]);
  const before = await times();
  await go(`#/job/${ids[1]}/brief`);
  await page.getByRole('button', { name: 'Move the whole job to another day' }).click({ timeout: 30_000 });
  const to = new Date(Date.parse(`${before.ready_by.slice(0, 10)}T00:00:00Z`) + 14 * 86_400_000).toISOString().slice(0, 10);
  await page.getByLabel('To the day').fill(to);
  await shot('asked');
  assert.deepEqual(await faults(page), []);
  await page.getByRole('button', { name: /^Move to / }).click();
  await until(page, async ([id, day]) => (await window.airwright.call('open_job', { id })).job.times.ready_by.startsWith(day), [ids[1], to]);
  const after = await times();
  for (const [field, wall] of Object.entries(before)) {
    if (typeof wall !== 'string' || wall === '') continue;
    assert.equal(after[field].slice(11), wall.slice(11), field);
    assert.equal(Date.parse(`${after[field]}Z`) - Date.parse(`${wall}Z`), 14 * 86_400_000, field);
  }
  await go(`#/job/${ids[1]}/times`);
  await until(page, async () => /enough\./.test(document.querySelector('main .verdict')?.textContent ?? ''));
  await page.getByRole('button', { name: /^Undo/ }).first().click();
  await until(page, async ([id, wall]) => (await window.airwright.call('open_job', { id })).job.times.ready_by === wall, [ids[1], before.ready_by]);
  assert.deepEqual(await times(), before);
});

test('three days in a row: both nights are said, to each person their own', async (t) => {
  const { page, go, shot } = await three(t, 'weekend', [1, 2]);
  const said = await page.evaluate(async () => {
    const { call, compute } = window.airwright;
    const rows = (await call('list_jobs')).sort((a, b) => a.ready_by_ms - b.ready_by_ms);
    const jobs = [];
    for (const r of rows) jobs.push((await call('open_job', { id: r.id })).job);
    return (await compute('clashes', { jobs })).rests.filter((r) => r.rule === 'daily');
  });
  const nights = (who) => said.filter((r) => r.name === who).map((r) => `${r.one}-${r.other}`);
  assert.ok(said.length > 0 && said.every((r) => r.to_ms - r.from_ms < 11 * 3600_000));
  const who = said[0].name;
  assert.deepEqual(nights(who), ['0-1', '1-2'], JSON.stringify(said));
  await go('#/jobs');
  const needs = page.locator('section[aria-labelledby="jobs-needs"]');
  await needs.getByRole('button', { name: /^Show all/ }).click({ timeout: 120_000 });
  await needs.getByText('less than 11 h of rest in a row within 24 h').nth(1).waitFor({ timeout: 120_000 });
  await shot('jobs');
  const words = await needs.innerText();
  for (const r of said) {
    const min = Math.round((r.to_ms - r.from_ms) / 60_000);
    assert.match(words.replace(/\s/g, ' '), new RegExp(`${r.name}[^.]*${Math.floor(min / 60)} h ${String(min % 60).padStart(2, '0')}`), JSON.stringify(r));
  }
  assert.deepEqual(await faults(page), []);
});
