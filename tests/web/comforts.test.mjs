// Comforts and safety of a tablet at the venue: the screen stays awake, large letters, the left hand, the promise of the browser to
// keep the jobs, the reminder to back up, photos that nothing uses. By hand: node --test tests/web/comforts.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, launch, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-comforts-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const TABLET = { width: 820, height: 1180 };
const DAY_MS = 24 * 3600_000;

/** What a browser does of itself, noted: wake locks, and the promise to keep what is stored. */
function noted() {
  window.locks = { held: 0, asked: 0 };
  window.asksToKeep = 0;
  const request = async (kind) => {
    window.locks.asked++;
    window.locks.held += kind === 'screen' ? 1 : 0;
    const lock = { released: false, release: async () => (lock.released ? undefined : ((lock.released = true), void window.locks.held--)) };
    return lock;
  };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
  navigator.storage.persist = async () => (window.asksToKeep++, true);
  navigator.storage.persisted = async () => localStorage.getItem('test.persisted') === 'yes';
}

async function inApp(t, name) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { viewport: TABLET });
  await context.addInitScript(noted);
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  const go = (hash) => page.evaluate((h) => (location.hash = h), hash);
  const reload = async () => {
    await page.reload();
    await mode(page, 'owner');
  };
  return { page, id, go, reload };
}

test('the screen is kept awake in Site and nowhere else', async (t) => {
  const { page, id, go } = await inApp(t, 'awake');
  assert.equal(await page.evaluate(() => window.locks.held), 0);
  await go(`#/job/${id}/site`);
  await until(page, () => window.locks.held === 1);
  await go(`#/job/${id}/make`);
  await until(page, () => window.locks.held === 0);
  assert.equal(await page.evaluate(() => window.locks.asked), 1);
});

test('large letters are larger, the left hand has its marks on the left, and both are there after a restart', async (t) => {
  const { page, id, go, reload } = await inApp(t, 'hands');
  await go(`#/job/${id}/site`);
  await page.locator('#step-now').waitFor({ timeout: 30000 });
  const look = () =>
    page.evaluate(() => {
      const row = document.querySelector('.step .press');
      const mark = row.querySelector('.tick').getBoundingClientRect();
      const at = row.getBoundingClientRect();
      const sizes = [...document.querySelectorAll('main button, main p')].filter((e) => e.checkVisibility() && e.innerText?.trim()).map((e) => parseFloat(getComputedStyle(e).fontSize));
      return { onLeft: mark.left + mark.width / 2 < at.left + at.width / 2, smallest: Math.min(...sizes), over: document.documentElement.scrollWidth > innerWidth };
    });
  const right = await look();
  assert.deepEqual([right.onLeft, right.over], [false, false]);
  const comforts = page.locator('details', { hasText: 'Screen and safety' });
  if (!(await comforts.evaluate((d) => d.open))) await comforts.locator('summary').click();
  await comforts.getByText('Large text').click();
  await comforts.getByText('Left hand').click();
  const left = await look();
  assert.deepEqual([left.onLeft, left.over], [true, false]);
  assert.ok(left.smallest > right.smallest, `${left.smallest} px after ${right.smallest} px`);
  await reload();
  await page.locator('#step-now').waitFor({ timeout: 30000 });
  assert.deepEqual(await look(), left);
});

test('the browser is asked to keep the jobs, and Settings tells what it answered', async (t) => {
  const { page, go, reload } = await inApp(t, 'kept');
  assert.equal(await page.evaluate(() => window.asksToKeep), 1);
  await go('#/settings');
  await page.getByText('The browser may clear the jobs when room is short').waitFor();
  await page.evaluate(() => localStorage.setItem('test.persisted', 'yes'));
  await reload();
  await page.getByText('The browser has promised to keep the jobs').waitFor();
});

test('a backup is asked for in Site until there is one, and a week later again', async (t) => {
  const { page, id, go, reload } = await inApp(t, 'backup');
  await go(`#/job/${id}/site`);
  const comforts = page.locator('details', { hasText: 'Screen and safety' });
  await comforts.getByText('No backup was made on this device yet.').waitFor({ timeout: 30000 });
  assert.ok(await comforts.evaluate((d) => d.open));
  const [saved] = await Promise.all([page.waitForEvent('download'), comforts.getByRole('button', { name: 'Make a backup' }).click()]);
  assert.match(saved.suggestedFilename(), /^Airwright backup \d{4}-\d\d-\d\d\.db$/);
  await comforts.getByText('A backup was made within the last day.').waitFor();
  for (const [days, text, asked] of [[1, 'The last backup is 1 day old: good.', false], [9, 'The last backup is 9 days old.', true]]) {
    await page.evaluate((at) => localStorage.setItem('airwright.backup', String(at)), Date.now() - days * DAY_MS - 60_000);
    await reload();
    await page.locator('#step-now').waitFor({ timeout: 30000 });
    assert.equal(await comforts.evaluate((d) => d.open), asked);
    if (!asked) await comforts.locator('summary').click();
    await comforts.getByText(text, { exact: true }).waitFor();
  }
});

test('photos that nothing uses any more are freed at a start, and Site says so', async (t) => {
  const { page, id, go, reload } = await inApp(t, 'freed');
  const picture = (shade) =>
    page.evaluate(async (fill) => {
      const canvas = new OffscreenCanvas(300, 200);
      const brush = canvas.getContext('2d');
      brush.fillStyle = fill;
      brush.fillRect(0, 0, 300, 200);
      return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
    }, shade);
  const files = () =>
    page.evaluate(async () => {
      const names = [];
      for await (const name of (await (await navigator.storage.getDirectory()).getDirectoryHandle('photos', { create: true })).keys()) names.push(name.split('.')[0]);
      return names.sort();
    });
  const add = async (shade) => (await ask(page, 'callBytes', 'add_photo', { job: id }, { bytes: await picture(shade) })).answer.hash;
  const edit = (...edits) => call(page, 'edit_job', { id, label: 'Edit', edits });
  const [named, removed, unnamed] = [await add('#123'), await add('#456'), await add('#789')];
  const value = (hash) => ({ hash, width_px: 300, height_px: 200 });
  await edit({ op: 'add', part: 'job', path: ['photos'], id: 'p1', value: value(named) }, { op: 'add', part: 'job', path: ['photos'], id: 'p2', value: value(removed) });
  await edit({ op: 'remove', part: 'job', path: ['photos'], id: 'p2' });
  assert.deepEqual(await files(), [named, removed, unnamed].sort());
  assert.deepEqual(await call(page, 'sweep_photos'), { photos: 0, bytes: 0, more: false }, 'today they are too new');
  // two days later what nobody named goes; the removed one can still be brought back
  await page.context().route('**/store.worker-*.js', async (route) => {
    const response = await route.fetch();
    await route.fulfill({ response, body: `{ const now = Date.now; Date.now = () => now() + ${2 * DAY_MS}; }\n${await response.text()}` });
  });
  await page.evaluate(async () => {
    for (const registration of await navigator.serviceWorker.getRegistrations()) await registration.unregister();
  });
  await reload();
  await until(page, async () => {
    const names = [];
    for await (const name of (await (await navigator.storage.getDirectory()).getDirectoryHandle('photos')).keys()) names.push(name);
    return names.length === 2;
  });
  assert.deepEqual(await files(), [named, removed].sort());
  await go(`#/job/${id}/site`);
  await page.getByText(/^1 photo that nothing used any more was removed: \d+(\.\d)? kB\.$/).waitFor({ timeout: 30000 });
  // undo still brings the other back, whole
  await call(page, 'undo', { id });
  assert.equal((await ask(page, 'callBytes', 'photo', { hash: removed })).answer?.mime, 'image/jpeg');
  assert.deepEqual(page.said, []);
});
