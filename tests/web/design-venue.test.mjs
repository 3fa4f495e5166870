// The venue's photograph behind the pieces of Design: in the view from the front, in the one that turns, and in the picture that is saved.
// By hand: node --test tests/web/design-venue.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, AXE, call, controlled, holds, launch, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-venue-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** Blue as nothing in the demo is: 800 by 700 px, of 5 mm each; the scene's left end stands 100 px from its left edge and 640 from its top. */
const VENUE = {
  photo_width_px: 800, photo_height_px: 700, photo_ax_px: 100, photo_ay_px: 100, photo_bx_px: 500, photo_by_px: 100,
  photo_between_mm: 2000, photo_ox_px: 100, photo_oy_px: 640,
};
const PLACE = { x: -500, y: -3200, width: 4000, height: 3500 };
/** It reaches so far to the right, mm: the arch stands within, the swag over the bar beyond. */
const EDGE_MM = 3500;

/** The Design room of the demo job at its arch, with a photograph of the venue that was measured. */
async function before(t, name, more = {}) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { viewport: { width: 1440, height: 900 }, ...more });
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  const bytes = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(800, 700);
    const brush = canvas.getContext('2d');
    brush.fillStyle = '#2040c0';
    brush.fillRect(0, 0, 800, 700);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  });
  const { answer } = await ask(page, 'callBytes', 'add_photo', { job: id }, { bytes });
  const edits = Object.entries({ photo: answer.hash, ...VENUE }).map(([field, value]) => ({ op: 'set', part: 'job', path: ['venue', field], value }));
  assert.equal((await call(page, 'edit_job', { id, label: 'Photo', edits })).fault, undefined);
  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/design/arch`);
  await page.reload();
  await mode(page, 'owner');
  await front(page).waitFor();
  return { page, id, site };
}

const front = (page) => page.getByRole('img', { name: /^Front view of .* before the venue/ });
const way = (page, name) => page.getByRole('radio', { name, exact: true }).check({ force: true });
/** A switch, by its label: the box itself is not to be seen. */
const turned = async (page, name, on) => {
  const box = page.getByRole('switch', { name }).or(page.getByRole('checkbox', { name })).first();
  await box.setChecked(on, { force: true });
};
const BEFORE = 'Before the venue’s photograph';

/** What share of a PNG is the blue of the photograph, and what of each column. */
const blue = (page, png) =>
  page.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
    const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const brush = new OffscreenCanvas(picture.width, picture.height).getContext('2d');
    brush.drawImage(picture, 0, 0);
    const { data: px } = brush.getImageData(0, 0, picture.width, picture.height);
    const columns = new Array(picture.width).fill(0);
    let plain = 0;
    for (let i = 0; i < px.length; i += 4) {
      const column = (i / 4) % picture.width;
      if (px[i + 2] > px[i] + 60 && px[i + 2] > px[i + 1] + 60) columns[column]++;
      // the paper beyond the photograph
      if (Math.abs(px[i] - 0xe9) + Math.abs(px[i + 1] - 0xe3) + Math.abs(px[i + 2] - 0xd7) < 9) plain++;
    }
    const all = columns.reduce((a, b) => a + b, 0);
    const share = (from, to) => columns.slice(from, to).reduce((a, b) => a + b, 0) / (picture.height * Math.max(1, to - from));
    const edge = columns.findLastIndex((n) => n > 0) + 1;
    return { size: [picture.width, picture.height], blue: all / (picture.width * picture.height), edge, within: share(0, edge), paper: plain / (picture.width * picture.height) };
  }, png.toString('base64'));

test('the pieces stand before the venue at its scale, in every theme and on every width, with no network; one switch leaves it out and is remembered', async (t) => {
  const { page, site } = await before(t, 'front', { bypassCSP: true });
  const image = front(page).locator('image');
  const place = await image.evaluate((e) => Object.fromEntries(['x', 'y', 'width', 'height'].map((k) => [k, Number(e.getAttribute(k))])));
  assert.deepEqual(place, PLACE);
  assert.ok(await controlled(page));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');
  await front(page).waitFor();
  await page.evaluate(AXE);
  for (const [width, height] of [[390, 844], [820, 1180], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    for (const theme of ['paper', 'hall', 'sun']) {
      await page.evaluate((name) => (document.documentElement.dataset.theme = name), theme);
      await page.evaluate(() => document.querySelector('main').scrollTo(0, 0));
      const seen = await holds(page, async () => {
        const said = await blue(page, await front(page).screenshot());
        assert.ok(said.blue > 0.15, `${width}, ${theme}: ${JSON.stringify(said)}`);
        return said;
      });
      assert.ok(seen.blue < 0.95, 'the arch stands before it');
    }
    const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
    assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${width}`);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0, `${width}`);
  }
  // the whole room: all of the photograph, and what stands beyond it
  await turned(page, 'Whole room', true);
  await holds(page, async () => {
    const [x, , width] = (await front(page).getAttribute('viewBox')).split(' ').map(Number);
    assert.ok(x <= PLACE.x && x + width > 5900, `${x} and ${width}`);
  });
  await turned(page, BEFORE, false);
  await page.getByRole('img', { name: /^Front view of [^:]*: / }).waitFor();
  assert.equal(await page.locator('svg[role=img] image').count(), 0);
  await page.reload();
  await mode(page, 'owner');
  await page.getByRole('img', { name: /^Front view of Jetty arch: / }).waitFor();
  await turned(page, BEFORE, true);
  await front(page).waitFor();
});

test('in the view that turns the venue stands behind, and is not there from behind', async (t) => {
  const { page } = await before(t, 'turn');
  await way(page, 'Turn');
  const canvas = page.locator('canvas');
  const share = async () => (await blue(page, await canvas.screenshot())).blue;
  await holds(page, async () => assert.ok((await share()) > 0.2, `${await share()}`));
  const picture = page.getByRole('img', { name: /^Picture of Jetty arch/ });
  await picture.focus();
  for (let i = 0; i < 30 && !/from behind/.test(await picture.getAttribute('aria-label')); i++) await page.keyboard.press('ArrowRight');
  assert.match(await picture.getAttribute('aria-label'), /from behind/);
  await holds(page, async () => assert.ok((await share()) < 0.01, `${await share()}`));
  await page.keyboard.press('Home');
  await holds(page, async () => assert.ok((await share()) > 0.2));
  await turned(page, BEFORE, false);
  await holds(page, async () => assert.ok((await share()) < 0.01));
});

test('what is saved before the venue holds what stands beyond the photograph, and the choice outlives the room', async (t) => {
  const { page, id } = await before(t, 'save', { acceptDownloads: true });
  const behind = page.getByLabel('Behind it');
  await behind.selectOption({ label: 'The venue' });
  const saved = async (name) => {
    const [download] = await Promise.all([page.waitForEvent('download', { timeout: 60000 }), page.getByRole('button', { name: 'Save picture' }).click()]);
    const file = join(root, name);
    await download.saveAs(file);
    return blue(page, readFileSync(file));
  };
  const beyond = page.getByText(/^Pieces stand beyond the edge of the photograph/);
  // the arch alone stands within
  assert.equal(await beyond.count(), 0);
  const alone = await saved('arch.png');
  assert.deepEqual([alone.size, alone.edge], [[800, 700], 800]);
  assert.ok(alone.blue > 0.3 && alone.paper < 0.001, JSON.stringify(alone));

  await turned(page, 'Whole room', true);
  await beyond.waitFor();
  const high = await page.evaluate(async (job) => {
    const { job: j, private: money } = await window.airwright.call('open_job', { id: job });
    return (await window.airwright.compute('scene', { job: j, private: money })).high;
  }, id);
  const all = await saved('room.png');
  // 5 mm to a px, and 150 mm of air; another packing of the preview may reach a little further or less far
  const want = (high[0] / 10 + 150 + 500) / 5;
  assert.ok(Math.abs(all.size[0] - want) <= 8, `${all.size} for ${want}`);
  // the photograph lies where it lay, and paper goes on beyond it
  const edge = all.edge - (EDGE_MM + 500) / 5;
  assert.ok(Math.abs(edge) <= 2, JSON.stringify(all));
  assert.ok(all.within > 0.2 && all.paper > 0.1, JSON.stringify(all));

  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/make`);
  await page.getByRole('heading', { name: 'Make', level: 1 }).waitFor();
  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/design/arch`);
  await front(page).waitFor();
  assert.equal(await behind.evaluate((e) => e.selectedOptions[0].textContent.trim()), 'The venue');
});
