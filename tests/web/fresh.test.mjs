// A job from its first entry on, in a browser: an empty one is not "in order", the day of the load-in stands in the other times, and
// what is added to a piece is seen. By hand: node --test tests/web/fresh.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-fresh-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

test('a new job: nothing planned yet, one day for all times, and a size that is added is seen', async (t) => {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, 'new'), { viewport: { width: 820, height: 1180 } });
  const page = await open(context, site.url);
  const id = await page.evaluate(async () => (await window.airwright.call('create_job', { name: 'New job' })).id);
  await page.evaluate((h) => (location.hash = h), `#/job/${id}/brief`);

  // the day of the load-in, once it is set, stands in the times that are empty; a time alone is enough
  await page.getByLabel('Load-in, day').fill('2026-12-12', { timeout: 30000 });
  await page.getByLabel('Load-in, time').fill('09:30');
  await page.getByLabel('Load-in, time').press('Tab');
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.times.load_in === '2026-12-12T09:30', id);
  for (const label of ['Ready by', 'Doors open', 'Strike from', 'Clear by']) assert.equal(await page.getByLabel(`${label}, day`).inputValue(), '2026-12-12', label);
  await page.getByLabel('Ready by, time').fill('13:00');
  await page.getByLabel('Ready by, time').press('Tab');
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.times.ready_by === '2026-12-12T13:00', id);

  // no piece: neither a price nor "all in order"
  const tape = page.locator('section.tape');
  await tape.getByText('nothing planned yet').waitFor({ timeout: 30000 });
  assert.equal(await tape.getByText('price').count(), 0);

  // the first garland, then a size: last of the list, in sight, with the focus on what is to be chosen
  await page.evaluate((h) => (location.hash = h), `#/job/${id}/design`);
  await page.getByRole('button', { name: 'Add a garland' }).click();
  await tape.getByText('price').waitFor({ timeout: 30000 });
  const sizes = page.locator('[id^="size-"]');
  const before = await sizes.count();
  await page.getByRole('button', { name: 'Add a size' }).click();
  await sizes.nth(before).waitFor();
  await page.waitForFunction(() => document.activeElement?.tagName === 'SELECT');
  const seen = await sizes.nth(before).evaluate((size) => {
    const r = document.activeElement.getBoundingClientRect();
    const top = document.elementFromPoint(r.left + 20, r.top + r.height / 2);
    return [size.contains(document.activeElement), size.contains(top)];
  });
  assert.deepEqual(seen, [true, true]);
});
