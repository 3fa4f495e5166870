// The Load room in a browser: the answer, the load stepped through both ways, a parcel opened by keys and by touch, another vehicle, the
// flat drawing where there is no WebGL, and bags ticked by their codes in Site.
// By hand: node --test tests/web/load.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, call, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-load-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** A room of the demo job, with the frames that the page asks for counted. */
async function room(t, name, more = { viewport: { width: 1440, height: 900 } }, where = 'load', before = () => {}) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { bypassCSP: true, ...more });
  await context.addInitScript(() => {
    const real = window.requestAnimationFrame.bind(window);
    window.framesAsked = 0;
    window.requestAnimationFrame = (f) => (window.framesAsked++, real(f));
  });
  await context.addInitScript(before);
  const page = await open(context, site.url);
  await page.locator('h1').waitFor();
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/${where}`);
  if (where === 'load') await page.getByRole('heading', { name: 'How it stands' }).waitFor({ timeout: 30000 });
  return { page, id };
}

/** The load as the backend has it, asked past the page. */
const loadOf = (page, id) =>
  page.evaluate(async (job) => {
    const view = await window.airwright.call('open_job', { id: job });
    return (await window.airwright.compute('plan', { job: view.job, private: view.private, depth: 'final' })).load;
  }, id);
const codes = (load, trip, by) => load.parcels.filter((p) => p.stow?.trip === trip).sort((a, b) => a.stow[by] - b.stow[by]).map((p) => p.code);
const listed = (page) => page.locator('ol[aria-labelledby="load-order"] [data-parcel]').evaluateAll((rows) => rows.map((r) => r.dataset.parcel));
/** Until the page has the load to the end: what is sketched before may lie elsewhere. */
const settled = (page, load) =>
  until(page, (want) => JSON.stringify([...document.querySelectorAll('ol[aria-labelledby="load-order"] [data-parcel]')].map((r) => r.dataset.parcel)) === want, JSON.stringify(codes(load, 1, 'turn')));

test('the list is the order of the plan, and stepping shows one after the other, in and out', async (t) => {
  const { page, id } = await room(t, 'steps');
  const load = await loadOf(page, id);
  assert.ok(load.runs.length > 0 && load.parcels.length > 10, 'the demo has places for its parcels');
  await settled(page, load);

  const [first, second] = codes(load, 1, 'turn');
  await page.getByRole('button', { name: `First in: ${first}` }).click();
  assert.equal(await page.locator('[data-parcel][aria-current="step"]').getAttribute('data-parcel'), first);
  await page.getByRole('button', { name: `Next in: ${second}` }).click();
  await page.getByRole('status').filter({ hasText: second }).first().waitFor();
  await page.getByRole('button', { name: 'Back', exact: true }).click();
  assert.equal(await page.locator('[data-parcel][aria-current="step"]').getAttribute('data-parcel'), first);
  // arrows do the same
  await page.keyboard.press('ArrowRight');
  assert.equal(await page.locator('[data-parcel][aria-current="step"]').getAttribute('data-parcel'), second);

  await page.getByRole('radio', { name: 'Unloading' }).check({ force: true });
  assert.deepEqual(await listed(page), codes(load, 1, 'out'));
  const [out] = codes(load, 1, 'out');
  await page.locator(`[data-parcel="${out}"][aria-current="step"]`).waitFor();
});

test('the picture turns and rests, and shows more when more is in', async (t) => {
  const { page } = await room(t, 'turns');
  await until(page, () => Number(document.querySelector('canvas')?.dataset.drawn ?? 0) > 0);
  const seen = () => page.evaluate(() => [Number(document.querySelector('canvas').dataset.drawn), window.framesAsked]);
  // the plan comes twice, the second time packed to the end: then all is still, and stays so
  let before = [];
  for (let i = 0, now = await seen(); i < 20 && String(before) !== String(now); i++) {
    before = now;
    await page.waitForTimeout(1200);
    now = await seen();
  }
  await page.waitForTimeout(1500);
  assert.deepEqual(await seen(), before, 'no frame while nothing changes');
  const picture = page.getByRole('img', { name: /parcels in it/ });
  await picture.focus();
  await page.keyboard.press('ArrowLeft');
  await until(page, (n) => Number(document.querySelector('canvas').dataset.drawn) > n, before[0]);
  // a tap in the middle of the load opens the sheet of what is seen there
  const box = await picture.boundingBox();
  for (const [x, y] of [[0.42, 0.6], [0.36, 0.66], [0.45, 0.5], [0.5, 0.62]]) {
    await page.mouse.click(box.x + box.width * x, box.y + box.height * y);
    await page.waitForTimeout(200);
    if ((await page.locator('dialog[open]').count()) > 0) break;
  }
  const sheet = page.getByRole('dialog').filter({ hasText: 'What is in it' });
  await sheet.waitFor();
});

test('a parcel is opened by keys and by touch; its sheet says code, place, size, contents and doors', async (t) => {
  const { page, id } = await room(t, 'sheet', { viewport: { width: 390, height: 844 }, hasTouch: true });
  const load = await loadOf(page, id);
  const bag = load.parcels.find((p) => p.soft && p.stow?.trip === 1);
  await settled(page, load);
  const row = page.locator(`[data-parcel="${bag.code}"]`);
  await row.focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog').filter({ hasText: bag.name });
  await sheet.waitFor();
  const words = await sheet.textContent();
  const place = await row.locator('.place').textContent();
  for (const said of [bag.code, bag.name, place, 'What is in it', bag.holds[0].what]) assert.ok(words.includes(said), `${said}: ${words}`);
  await page.keyboard.press('Escape');
  await sheet.waitFor({ state: 'hidden' });

  await row.scrollIntoViewIfNeeded();
  await row.tap();
  await sheet.waitFor();
  await sheet.getByRole('button', { name: 'Show it in the van' }).tap();
  await sheet.waitFor({ state: 'hidden' });
  assert.equal(await page.locator('[data-parcel][aria-current="step"]').getAttribute('data-parcel'), bag.code);
});

test('a smaller vehicle needs more trips: tried, taken, looked at trip by trip, and taken back', async (t) => {
  const { page, id } = await room(t, 'vehicle');
  const before = await loadOf(page, id);
  assert.equal(before.trips, 1, 'the demo goes in one trip in its long van');
  await page.getByRole('button', { name: 'Try them' }).click();
  const tried = page.getByRole('listitem').filter({ hasText: 'Small van' }).filter({ has: page.getByRole('button', { name: /Take it/ }) });
  await tried.getByRole('button', { name: /Take it/ }).click({ timeout: 60000 });
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.vehicle.name === 'Small van', id);
  const after = await loadOf(page, id);
  assert.ok(after.trips >= 2, `${after.trips} trips`);
  await page.getByRole('radio', { name: 'Trip 2' }).check({ force: true, timeout: 30000 });
  await until(page, (want) => JSON.stringify([...document.querySelectorAll('ol[aria-labelledby="load-order"] [data-parcel]')].map((r) => r.dataset.parcel)) === want, JSON.stringify(codes(after, 2, 'turn')));
  // each parcel of the job has one place in one trip, and none has two
  const all = after.runs.flatMap((run) => codes(after, run.trip, 'turn'));
  assert.equal(new Set(all).size, all.length);
  await page.getByRole('button', { name: 'Undo' }).first().click();
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.vehicle.name === 'Long van', id);
  await page.getByRole('radio', { name: 'Trip 2' }).waitFor({ state: 'detached', timeout: 30000 });
});

test('of many trips the chosen one can be read whole, on a phone and a tablet', async (t) => {
  const { page, id } = await room(t, 'trips', { viewport: { width: 820, height: 1180 } });
  // as long as its longest parcel, and little wider: more trips than stand side by side
  const small = Object.entries({ name: 'Van of the neighbour', length_mm: 1700, width_mm: 1200, height_mm: 850, door_width_mm: 1200, door_height_mm: 850 });
  const edits = small.map(([field, value]) => ({ op: 'set', part: 'job', path: ['vehicle', field], value }));
  const { fault } = await call(page, 'edit_job', { id, label: 'Small', edits });
  assert.equal(fault, undefined);
  await page.reload();
  assert.ok((await loadOf(page, id)).runs.length > 3);
  const chosen = page.getByRole('combobox', { name: 'Trip' });
  for (const [width, height] of [[820, 1180], [390, 844]]) {
    await page.setViewportSize({ width, height });
    await chosen.waitFor({ timeout: 15000 });
    const [words, room] = await chosen.evaluate((select) => {
      const look = getComputedStyle(select);
      const brush = document.createElement('canvas').getContext('2d');
      brush.font = `${look.fontWeight} ${look.fontSize} ${look.fontFamily}`;
      return [brush.measureText(select.selectedOptions[0].text).width, select.clientWidth - parseFloat(look.paddingRight)];
    });
    assert.ok(words > 60 && words <= room, `${words} px of words in ${room} px at ${width}`);
  }
});

test('wheel arches are added, drawn and kept; a vehicle with no measures is asked for them', async (t) => {
  const { page, id } = await room(t, 'arches');
  await page.getByText('Its measures', { exact: true }).click();
  await page.getByRole('button', { name: 'Add wheel arches' }).click();
  const blocked = await until(page, async (job) => {
    const found = (await window.airwright.call('open_job', { id: job })).job.vehicle.blocked;
    return found.length === 2 && found;
  }, id);
  assert.equal(blocked[0].y_mm, 0);
  await page.getByRole('radio', { name: 'Flat', exact: true }).check({ force: true });
  await until(page, () => document.querySelectorAll('svg rect.blocked').length === 4);
  // nothing stands where an arch is
  const load = await loadOf(page, id);
  for (const { code, stow } of load.parcels.filter((p) => p.stow)) {
    for (const b of blocked) {
      const shared = [[stow.x_mm, stow.dx_mm, b.x_mm, b.length_mm], [stow.y_mm, stow.dy_mm, b.y_mm, b.width_mm], [stow.z_mm, stow.dz_mm, b.z_mm, b.height_mm]].map(([a, da, c, dc]) => Math.min(a + da, c + dc) - Math.max(a, c));
      assert.ok(Math.min(...shared) <= 0, `${code} stands in an arch`);
    }
  }
  await page.evaluate((job) => window.airwright.call('edit_job', { id: job, label: 'x', edits: [{ op: 'set', part: 'job', path: ['vehicle', 'length_mm'], value: 0 }] }), id);
  await page.reload();
  await page.getByRole('heading', { name: 'No load space yet' }).first().waitFor({ timeout: 30000 });
  await page.getByRole('button', { name: 'To the vehicle' }).click();
  assert.equal(await page.evaluate(() => document.activeElement?.tagName), 'SELECT');
});

test('without WebGL the flat drawing stands there, and a tap on a box opens its sheet', async (t) => {
  const { page } = await room(t, 'flat', { viewport: { width: 820, height: 1180 }, hasTouch: true }, 'load', () => {
    const real = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
      return /webgl/.test(kind) ? null : real.call(this, kind, ...rest);
    };
  });
  await page.getByText('This device shows no turning pictures.').waitFor();
  const box = page.locator('svg rect.box').last();
  await box.scrollIntoViewIfNeeded();
  const at = await box.boundingBox();
  await page.touchscreen.tap(at.x + at.width / 2, at.y + at.height / 2);
  await page.getByRole('dialog').filter({ hasText: 'What is in it' }).waitFor();
});

test('bags are ticked into the van by a press and by a typed code, and the step counts them', async (t) => {
  const { page, id } = await room(t, 'bags', { viewport: { width: 390, height: 844 }, hasTouch: true }, 'site/bags-in');
  const bags = page.locator('[data-bag]');
  await bags.first().waitFor({ timeout: 30000 });
  const load = await loadOf(page, id);
  assert.equal(await bags.count(), load.parcels.length);
  for (const size of await bags.evaluateAll((list) => list.map((b) => b.getBoundingClientRect().height))) assert.ok(size >= 72, `${size} px`);
  const first = await bags.first().getAttribute('data-bag');
  await bags.first().tap();
  await page.locator(`[data-bag="${first}"][aria-pressed="true"]`).waitFor();
  const second = await bags.nth(1).getAttribute('data-bag');
  await page.getByLabel('Code on the label').fill(second.toLowerCase());
  await page.keyboard.press('Enter');
  await page.locator(`[data-bag="${second}"][aria-pressed="true"]`).waitFor();
  const counted = (want) => until(page, async ([job, n]) => {
    const ticks = Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((k) => k.step === 'load');
    return ticks.sort((a, b) => b.turn - a.turn)[0]?.quantity === n;
  }, [id, want]);
  await counted(2);
  // a second press takes it back, and out of the van nothing is ticked
  await bags.first().tap();
  await page.locator(`[data-bag="${first}"][aria-pressed="false"]`).waitFor();
  await counted(1);
  await page.getByLabel('Code on the label').fill('Z9');
  await page.keyboard.press('Enter');
  await page.getByText('There is no bag Z9.').waitFor();
  await page.getByRole('link', { name: 'Out of the van' }).click();
  await page.getByRole('heading', { name: 'Out of the van' }).waitFor();
  assert.equal(await page.locator('[data-bag][aria-pressed="true"]').count(), 0);
});

test('the labels are made here', async (t) => {
  const { page } = await room(t, 'labels');
  const got = page.waitForEvent('download', { timeout: 60000 });
  await page.getByRole('button', { name: 'Make the labels' }).click();
  assert.match((await got).suggestedFilename(), /\.pdf$/);
});

test('the room keeps the access rules, and is never too wide', async (t) => {
  const { page } = await room(t, 'axe');
  await page.evaluate(AXE);
  for (const [width, height] of [[360, 740], [390, 844], [820, 1180], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    for (const way of ['Turn', 'Flat']) {
      await page.getByRole('radio', { name: way, exact: true }).check({ force: true });
      await page.waitForTimeout(300);
      const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
      assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${way} at ${width}`);
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0, `${way} is too wide at ${width}`);
    }
  }
});
