// The Design room as a finger meets it, in a job made from nothing, on a tablet and on a phone.
// By hand: node --test tests/web/design-touch.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { holds, launch, live, open } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-touch-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The Design room of a new job, under a finger. */
async function begun(t, name, viewport) {
  const site = await serve(t, '/app', WEB, 'csp');
  const context = await launch(t, join(root, name), { viewport, hasTouch: true });
  const page = await open(context, site.url);
  page.setDefaultTimeout(15000);
  await page.getByRole('button', { name: 'New job' }).tap();
  await page.getByRole('link', { name: 'Design' }).first().tap();
  await page.getByRole('button', { name: 'Add a garland' }).waitFor();
  const id = page.url().split('/job/')[1].split('/')[0];
  const job = () => page.evaluate(async (i) => (await window.airwright.call('open_job', { id: i })).job, id);
  const cdp = await context.newCDPSession(page);
  const touch = (type, points) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y]) => ({ x, y })) });
  /** A finger along points; `held` is asked before it is lifted. */
  async function drag(points, held = async () => {}) {
    await touch('touchStart', [points[0]]);
    for (const p of points.slice(1)) await touch('touchMove', [p]);
    const said = await held();
    await touch('touchEnd', []);
    return said;
  }
  return { page, job, drag };
}

const along = (a, b, n = 10) => Array.from({ length: n + 1 }, (_, i) => [a[0] + ((b[0] - a[0]) * i) / n, a[1] + ((b[1] - a[1]) * i) / n]);

/** Where something is once it moves no more: a plan that comes in can move what stands below its words. */
async function still(page, it) {
  for (let was; ; await page.waitForTimeout(1000)) {
    const now = await it.boundingBox();
    if (JSON.stringify(now) === JSON.stringify(was)) return now;
    was = now;
  }
}

test('a first garland has colours at once, takes one of its own, and its sizes are dragged with the count in sight', async (t) => {
  const { page, job, drag } = await begun(t, 'sizes', { width: 820, height: 1180 });
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  // it came up empty, with a stop, where the job had no colour yet
  await page.getByRole('img', { name: /^Front view of Garland: \d+ balloons in \w/ }).waitFor();
  await page.getByRole('combobox', { name: 'Add a colour' }).selectOption({ label: 'A colour of your own' });
  const name = page.getByRole('textbox', { name: 'Name of the colour' }).last();
  await name.fill('Dusk');
  await name.press('Tab');
  const piece = async () => live((await job()).pieces)[0];
  await holds(page, async () => {
    const [{ colours }, { garland }] = [await job(), await piece()];
    const palette = live(garland.palette);
    assert.equal(palette.reduce((sum, s) => sum + s.share_pct, 0), 100);
    assert.equal(colours[palette.at(-1).colour].name, 'Dusk');
  });

  // the fields of a colour stay open while they are used
  await page.locator('summary').filter({ has: page.getByText('Ivory', { exact: true }) }).tap();
  await page.getByRole('combobox', { name: 'Inside Ivory' }).selectOption({ label: 'Moss' });
  await holds(page, async () => assert.notEqual(live((await piece()).garland.palette)[0].inside, ''));
  await page.getByRole('combobox', { name: 'Inside Ivory' }).selectOption({ label: 'nothing: a single balloon' });
  await holds(page, async () => assert.equal(live((await piece()).garland.palette)[0].inside, ''));

  // the count at the head of the sizes follows the finger, and what was dragged is kept
  const slider = page.getByRole('slider', { name: 'Share of 5 in' });
  await slider.evaluate((e) => e.scrollIntoView({ block: 'center' }));
  const count = page.getByRole('status').filter({ hasText: /^\d+ balloons$/ });
  const box = await still(page, slider);
  const before = await count.textContent();
  const at = async () => [box.x + 13 + ((box.width - 26) * Number(await slider.inputValue())) / 100, box.y + box.height / 2];
  const shares = async () => live((await piece()).garland.mix).map((m) => m.share_pct);
  const were = await shares();
  await drag(along(await at(), [box.x + box.width * 0.9, box.y + box.height / 2]), async () => {
    await holds(page, async () => assert.notEqual(await count.textContent(), before));
    assert.deepEqual(await shares(), were, 'nothing is kept before the finger is lifted');
    const head = await count.boundingBox();
    assert.ok(head.y >= 0 && head.y < box.y, `the count is in sight: ${JSON.stringify(head)}`);
  });
  await holds(page, async () => assert.ok((await shares())[2] > 70, `the share is kept: ${await shares()}`));
  // a colour's share by its button
  await page.getByRole('button', { name: 'Share of Dusk, more' }).tap();
  await holds(page, async () => assert.equal(live((await piece()).garland.palette).at(-1).share_pct, 30));
  await page.getByRole('button', { name: 'Undo', exact: true }).first().tap();
  await page.getByRole('button', { name: 'Undo', exact: true }).first().tap();
  await holds(page, async () => assert.deepEqual(await shares(), were));
  assert.deepEqual(page.said, []);
});

test('on a phone: what can be done with a picked cluster stands under the picture; a path is shaped near by, its points apart', async (t) => {
  const { page, job, drag } = await begun(t, 'phone', { width: 390, height: 844 });
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  const picture = page.getByRole('img', { name: /^Front view of Garland: \d+/ });
  await picture.waitFor();
  await picture.scrollIntoViewIfNeeded();
  const seen = await picture.boundingBox();
  await page.touchscreen.tap(seen.x + seen.width * 0.5, seen.y + seen.height * 0.5);
  const paint = page.getByRole('group', { name: 'Paint' });
  await paint.waitFor();
  const tools = await paint.boundingBox();
  assert.ok(tools.y >= seen.y + seen.height && tools.y < seen.y + seen.height + 120, `under the picture: ${JSON.stringify(tools)}`);
  await paint.getByRole('button').first().tap();
  await holds(page, async () => assert.equal(live(live((await job()).pieces)[0].garland.hand).filter((h) => h.shade !== '').length, 1));
  await page.getByRole('button', { name: 'Done' }).tap();
  assert.equal(await paint.count(), 0);

  // seven pieces side by side: the chosen one came up below a long list, and its path was a speck with its handles over one another
  for (const kind of ['Balloon wall', 'Classic arch', 'Table centrepieces', 'Singles', 'Frame', 'Garland']) {
    await page.getByRole('button', { name: 'Add', exact: true }).tap();
    await page.locator('dialog[open]').getByRole('button', { name: kind, exact: true }).tap();
    await page.getByRole('heading', { name: kind === 'Garland' ? 'Garland 2' : kind, exact: true }).waitFor();
  }
  const ways = page.getByRole('radiogroup', { name: 'Way of looking' });
  await holds(page, async () => {
    const { y } = await ways.boundingBox();
    assert.ok(y >= 0 && y < 844 * 0.6, `the picture is in view: ${y}`);
  });
  await page.getByRole('radio', { name: 'Draw', exact: true }).check({ force: true });
  const [left, right] = [page.locator('[data-grip="left"]'), page.locator('[data-grip="right"]')];
  await holds(page, async () => {
    const apart = (await right.boundingBox()).x - (await left.boundingBox()).x;
    assert.ok(apart > 150, `the ends of a path of 3 m are ${apart} px apart`);
  });
  await page.getByRole('radio', { name: 'Draw by hand' }).check({ force: true });
  const sheet = await page.getByRole('group', { name: /^Drawing of the path/ }).boundingBox();
  const wave = Array.from({ length: 40 }, (_, i) => [sheet.x + sheet.width * (0.12 + (0.76 * i) / 39), sheet.y + sheet.height * (0.4 - 0.22 * Math.sin((i / 39) * Math.PI * 2))]);
  // at its end the stroke goes down through the floor, which stops the pen
  await drag([...wave, ...along(wave.at(-1), [sheet.x + sheet.width * 0.9, sheet.y + sheet.height - 4], 8)]);
  const points = await holds(page, async () => {
    const { garland } = live((await job()).pieces).at(-1);
    assert.equal(garland.shape, 'drawn');
    return live(garland.points);
  });
  assert.ok(points.length >= 4, `${points.length} points`);
  const grips = page.locator('[data-grip]');
  await holds(page, async () => assert.equal(await grips.count(), points.length));
  const spots = await Promise.all((await grips.all()).map((g) => g.boundingBox()));
  for (let i = 1; i < spots.length; i++) {
    const px = Math.hypot(spots[i].x - spots[i - 1].x, spots[i].y - spots[i - 1].y);
    assert.ok(px >= 24, `points ${i} and ${i + 1} are ${px.toFixed(0)} px apart`);
  }
  // measured at one moment: a plan that comes in may set the drawing to another scale
  await holds(page, async () => {
    const under = await page.evaluate(() => {
      const floor = [...document.querySelectorAll('line.floor')].at(-1).getBoundingClientRect().y;
      return Math.max(...[...document.querySelectorAll('[data-grip]')].map((e) => e.getBoundingClientRect()).map((r) => r.y + r.height / 2 - floor));
    });
    assert.ok(under <= 3, `a point lies ${under.toFixed(0)} px under the floor`);
  });
  assert.deepEqual(page.said, []);
});

test('by keys alone the focus is never lost: a piece added has it, and so has a cluster whose tool has gone', async (t) => {
  const { page, job } = await begun(t, 'keys', { width: 1440, height: 900 });
  const focus = () => page.evaluate(() => (document.activeElement === document.body ? 'nothing' : document.activeElement.textContent.trim().replace(/\s+/g, ' ')));
  await page.getByRole('button', { name: 'Add a garland' }).focus();
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.match(await focus(), /^Garland/));
  await page.getByRole('button', { name: 'Add', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.locator('dialog[open]').getByRole('button', { name: 'Balloon wall' }).focus();
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.match(await focus(), /^Balloon wall/));

  await page.getByRole('button', { name: /^Garland/ }).focus();
  await page.keyboard.press('Enter');
  const second = page.getByRole('option', { name: /^Cluster 2:/ });
  await page.getByRole('option', { name: /^Cluster 1:/ }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowRight');
  await holds(page, async () => assert.equal(await second.getAttribute('aria-selected'), 'true'));
  const hand = async () => live(live((await job()).pieces)[0].garland.hand);
  await page.getByRole('button', { name: 'Leave out' }).focus();
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.deepEqual((await hand()).map((h) => h.left_out), [true]));
  await holds(page, async () => assert.match(await focus(), /^Cluster 2, left out/));
  await page.keyboard.press('Tab');
  assert.equal(await focus(), 'Put back');
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.deepEqual(await hand(), []));
  await holds(page, async () => assert.match(await focus(), /^Cluster 2/));
  assert.deepEqual(page.said, []);
});

test('two taps scale a photograph: the second one is of the second point', async (t) => {
  const { page, job } = await begun(t, 'photo', { width: 820, height: 1180 });
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  await page.getByRole('radio', { name: 'Draw', exact: true }).check({ force: true });
  // the drawing says where a photograph is laid under it
  await page.getByRole('button', { name: 'Draw over a photograph of the venue' }).tap();
  const jpeg = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(1200, 800);
    canvas.getContext('2d').fillRect(0, 0, 1200, 800);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  });
  await page.locator('section input[type=file]').last().setInputFiles({ name: 'wall.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpeg) });
  const wall = page.getByRole('img', { name: /^Photograph of/ });
  await wall.waitFor();
  await wall.scrollIntoViewIfNeeded();
  const box = await wall.boundingBox();
  const px = (x) => Math.round((x * 1200) / box.width);
  await page.touchscreen.tap(box.x + 60, box.y + 60);
  await holds(page, async () => assert.ok(await page.getByRole('radio', { name: 'Second point' }).isChecked()));
  await page.touchscreen.tap(box.x + 500, box.y + 60);
  await holds(page, async () => {
    const { venue } = await job();
    assert.ok(Math.abs(venue.photo_ax_px - px(60)) < 4 && Math.abs(venue.photo_bx_px - px(500)) < 4, `${venue.photo_ax_px} and ${venue.photo_bx_px} px`);
  });
  assert.deepEqual(page.said, []);
});

test('how the colours lie, and single clusters painted, locked, replaced, moved and left out by a finger, each taken back by one undo', async (t) => {
  const { page, job } = await begun(t, 'hands', { width: 820, height: 1180 });
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  await page.getByRole('img', { name: /^Front view of Garland: \d+ balloons in \w/ }).waitFor();
  const garland = async () => live((await job()).pieces)[0].garland;
  const hands = async () => live((await garland()).hand);
  const undo = () => page.getByRole('button', { name: 'Undo', exact: true }).first().tap();
  const large = async (target) => {
    const box = await target.boundingBox();
    assert.ok(box.width >= 44 && box.height >= 44, `${await target.textContent()} is ${Math.round(box.width)} by ${Math.round(box.height)} px`);
  };
  const were = (await garland()).arrangement;
  for (const [name, want] of [['Spiral', 'spiral'], ['Fade', 'fade'], ['Blocks', 'blocks']]) {
    const way = page.getByRole('radiogroup', { name: 'How the colours lie' }).locator('label').filter({ hasText: name });
    await large(way);
    await way.tap();
    await holds(page, async () => assert.equal((await garland()).arrangement, want));
  }
  for (let i = 0; i < 3; i++) await undo();
  await holds(page, async () => assert.equal((await garland()).arrangement, were));

  await page.getByRole('option', { name: /^Cluster 3:/ }).tap();
  const tools = page.getByRole('group', { name: 'Cluster 3' });
  await tools.waitFor();
  const steps = [
    [tools.getByRole('button', { name: /^Paint cluster 3 in/ }).last(), (h) => assert.notEqual(h[0].shade, '')],
    [tools.getByRole('button', { name: 'Lock', exact: true }), (h) => assert.ok(h[0].locked && h[0].balls.length > 0)],
    [tools.getByRole('button', { name: 'Later', exact: true }), (h) => assert.ok(h.some((one) => one.moved !== 0))],
    [tools.getByRole('button', { name: 'Leave out', exact: true }), (h) => assert.ok(h[0].left_out)],
  ];
  for (const [button, check] of steps) {
    await large(button);
    await button.tap();
    await holds(page, async () => check(await hands()));
    await undo();
    await holds(page, async () => assert.deepEqual(await hands(), []));
    await tools.waitFor();
  }
  await tools.locator('summary').filter({ hasText: 'Replace by' }).tap();
  const rows = tools.getByRole('group', { name: /, blown to / });
  while ((await rows.count()) > 1) await tools.getByRole('button', { name: /^Take out/ }).last().tap();
  await rows.getByRole('spinbutton', { name: 'Balloons' }).fill('8');
  await rows.getByRole('spinbutton', { name: 'Balloons' }).press('Tab');
  await tools.getByRole('button', { name: 'Replace', exact: true }).tap();
  await holds(page, async () => assert.equal((await hands())[0].balls.length, 8));
  await undo();
  await holds(page, async () => assert.deepEqual(await hands(), []));
  // nothing of the room is wider than the screen
  assert.ok(await page.evaluate(() => document.querySelector('main').scrollWidth <= document.querySelector('main').clientWidth + 1));
  assert.deepEqual(page.said, []);
});

test('a new garland begins full: its fillers are counted and said, and one tap takes them all out', async (t) => {
  const { page, job } = await begun(t, 'full', { width: 820, height: 1180 });
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  const picture = page.getByRole('img', { name: /^Front view of Garland: \d+ balloons in \w/ });
  await picture.waitFor();
  const drawn = async () => Number((await picture.getAttribute('aria-label')).match(/: (\d+) balloons/)[1]);
  const shown = async () => live((await job()).pieces)[0].garland.show_pct;
  assert.equal(await shown(), 3);
  const said = page.locator('.form').getByText(/^Without fillers [\d.]+\s%? ?shows, with \d+ fillers/);
  await said.waitFor();
  const fillers = Number((await said.textContent()).match(/with (\d+) fillers/)[1]);
  assert.ok(fillers > 0);
  const full = await drawn();
  const fill = page.getByRole('switch', { name: 'Hide the line with fillers' });
  await fill.tap();
  await holds(page, async () => assert.equal(await shown(), 100));
  await holds(page, async () => assert.equal(await drawn(), full - fillers));
  assert.equal(await page.getByRole('slider', { name: 'How much of the line may show' }).count(), 0);
  await page.locator('.form').getByText(/^Without fillers [\d.]+\s%? ?shows\.$/).waitFor();
  await fill.tap();
  await holds(page, async () => assert.equal(await drawn(), full));
  assert.equal(await shown(), 3);
  // what needs nothing is folded, and opens with its choices
  const choice = page.getByRole('button', { name: 'Tie a mixed pair' }).first();
  assert.equal(await choice.isVisible(), false);
  await page.locator('summary').filter({ hasText: /^\d+ notes?$/ }).tap();
  await choice.tap();
  await holds(page, async () => assert.equal(live((await job()).pieces)[0].garland.odd, 'mixed_pair'));
  assert.deepEqual(page.said, []);
});
