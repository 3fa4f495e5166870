// The picture side of Design in a browser: the view that turns, and the path drawn by mouse, finger and keys.
// By hand: node --test tests/web/picture.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-picture-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The Design room of the demo job, at its arch, with what a frame of the page asks for counted. */
async function design(t, name, piece = 'arch', more = {}) {
  const site = await serve(t, '/app', WEB, more.mode ?? 'csp');
  const context = await launch(t, join(root, name), { viewport: { width: 1440, height: 1000 }, ...more });
  await context.addInitScript(() => {
    const real = window.requestAnimationFrame.bind(window);
    window.framesAsked = 0;
    window.requestAnimationFrame = (f) => (window.framesAsked++, real(f));
  });
  const page = await open(context, site.url);
  await mode(page, 'owner');
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/design/${piece}`);
  await way(page, 'Front');
  return { page, id };
}

/** The drawn line in room coordinates, a point every two millimetres, mm. */
const drawn = (page) =>
  until(page, () => {
    const line = document.querySelector('svg[role=group] path.path');
    if (!line) return null;
    const matrix = line.ownerSVGElement.getScreenCTM().inverse().multiply(line.getScreenCTM());
    const at = (s) => line.getPointAtLength(s).matrixTransform(matrix);
    return Array.from({ length: Math.floor(line.getTotalLength() / 2) }, (_, i) => at(2 * i)).map((p) => [p.x, -p.y]);
  });

/** The line that the plan hangs, from its first knot to its last, lies on the drawn one and takes up most of it. */
function hangs(line, ends, slack) {
  const found = ends.map((end) => line.map((p) => Math.hypot(p[0] - end[0], p[1] - end[1])).reduce((best, d, i) => (d < best.d ? { d, i } : best), { d: Infinity, i: 0 }));
  for (const { d } of found) assert.ok(d < slack, `${ends}: ${d} mm off the line`);
  assert.ok(Math.abs(found[1].i - found[0].i) > 0.8 * line.length, `${ends}: ${found[0].i} to ${found[1].i} of ${line.length}`);
}

const way = (page, name) => page.getByRole('radio', { name, exact: true }).check({ force: true, timeout: 30000 });
const garland = (page, [id, piece]) => page.evaluate(async ([job, p]) => (await window.airwright.call('open_job', { id: job })).job.pieces[p], [id, piece]);
const surface = (page) => page.getByRole('group', { name: /^Drawing of the path/ });

/** How many colours a picture of an element has, and the share of it that is not its ground. */
async function painted(page, locator) {
  const png = (await locator.screenshot()).toString('base64');
  return page.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
    const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(picture.width, picture.height);
    const brush = canvas.getContext('2d');
    brush.drawImage(picture, 0, 0);
    const { data: px } = brush.getImageData(0, 0, picture.width, picture.height);
    const seen = new Map();
    for (let i = 0; i < px.length; i += 4) {
      const key = (px[i] >> 3) * 1024 + (px[i + 1] >> 3) * 32 + (px[i + 2] >> 3);
      seen.set(key, (seen.get(key) ?? 0) + 1);
    }
    return { colours: seen.size, other: 1 - Math.max(...seen.values()) / (px.length / 4) };
  }, png);
}

test('the view that turns draws the piece, turns by drag, wheel and keys, and rests when nothing changes', async (t) => {
  const { page } = await design(t, 'turn');
  await way(page, 'Turn');
  const canvas = page.locator('canvas');
  const drawn = () => canvas.evaluate((c) => Number(c.dataset.drawn ?? 0));
  await until(page, () => Number(document.querySelector('canvas')?.dataset.drawn ?? 0) > 0);
  await page.waitForTimeout(1500);
  const first = await painted(page, canvas);
  // ivory, rose and moss, each in light and shade, on a plain ground: a blank canvas has one colour
  assert.ok(first.colours > 60 && first.other > 0.2, JSON.stringify(first));

  // still: no frame is asked for and none is drawn
  const before = [await drawn(), await page.evaluate(() => window.framesAsked)];
  await page.waitForTimeout(1500);
  assert.deepEqual([await drawn(), await page.evaluate(() => window.framesAsked)], before);

  const picture = page.getByRole('img', { name: /^Picture of Jetty arch/ });
  assert.match(await picture.getAttribute('aria-label'), /seen from the front: \d+ balloons in .*Old rose/);
  const at = await picture.boundingBox();
  await page.mouse.move(at.x + at.width / 2, at.y + at.height / 2);
  await page.mouse.down();
  await page.mouse.move(at.x + at.width / 2 - 220, at.y + at.height / 2, { steps: 6 });
  await page.mouse.up();
  assert.match(await picture.getAttribute('aria-label'), /seen from the right/);
  await until(page, (n) => Number(document.querySelector('canvas').dataset.drawn) > n, before[0]);
  await page.getByRole('button', { name: 'Top', exact: true }).click();
  assert.match(await picture.getAttribute('aria-label'), /seen from above/);
  await picture.focus();
  await page.keyboard.press('Home');
  assert.match(await picture.getAttribute('aria-label'), /seen from the front/);
  for (let i = 0; i < 9; i++) await page.keyboard.press('ArrowLeft');
  assert.match(await picture.getAttribute('aria-label'), /seen from the left/);
  await page.waitForTimeout(600);
  const far = await painted(page, canvas);
  await page.keyboard.press('Home');
  await page.waitForTimeout(600);
  for (let i = 0; i < 3; i++) await page.keyboard.press('+');
  await page.waitForTimeout(600);
  assert.ok((await painted(page, canvas)).other > far.other, 'nearer shows more of the piece');
  // away and back: everything is given back and set up again
  await way(page, 'Front');
  assert.equal(await canvas.count(), 0);
  await way(page, 'Turn');
  await until(page, () => Number(document.querySelector('canvas')?.dataset.drawn ?? 0) > 0);
  assert.deepEqual(page.said.filter((s) => !s.includes('GPU stall due to ReadPixels')), []);
});

test('a tap on a balloon picks its cluster in the picture and in the strip', async (t) => {
  const { page } = await design(t, 'pick');
  const strip = page.getByRole('listbox', { name: /^Clusters of the line/ });
  await strip.waitFor();
  assert.equal(await strip.locator('[aria-selected="true"]').count(), 0);
  // the round that is drawn last lies over all others
  const ball = await page.getByRole('img', { name: /^Front view of Jetty arch/ }).locator('.round').last().boundingBox();
  await page.mouse.click(ball.x + ball.width / 2, ball.y + ball.height / 2);
  await strip.locator('[aria-selected="true"]').waitFor();
  const rings = await page.locator('svg circle.picked').count();
  assert.ok(rings >= 4 && rings <= 12, `${rings} balloons are ringed`);
});

test('without WebGL the front view stands there, and says why', async (t) => {
  const { page } = await design(t, 'flat');
  await page.evaluate(() => {
    const real = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
      return /webgl/.test(kind) ? null : real.call(this, kind, ...rest);
    };
  });
  await way(page, 'Turn');
  await page.getByText('This device shows no turning pictures.').waitFor();
  await page.getByRole('img', { name: /^Front view of Jetty arch/ }).waitFor();
});

test('a foot of the arch is dragged: the span changes by what the hand went, in one edit that is undone', async (t) => {
  const { page, id } = await design(t, 'drag');
  await way(page, 'Draw');
  const old = await garland(page, [id, 'arch']);
  const crown = page.getByRole('slider', { name: 'Crown' });
  const foot = page.getByRole('slider', { name: 'Right end' });
  const [a, b, top] = [await page.getByRole('slider', { name: 'Left end' }).boundingBox(), await foot.boundingBox(), await crown.boundingBox()];
  const middle = (r) => [r.x + r.width / 2, r.y + r.height / 2];
  // px of the screen to a mm of the room, from the two feet
  const scale = (middle(b)[0] - middle(a)[0]) / old.garland.span_mm;
  await page.mouse.move(...middle(b));
  await page.mouse.down();
  await page.mouse.move(middle(b)[0] + 300 * scale, middle(b)[1], { steps: 8 });
  // a pixel of the screen is about a centimetre of the room
  const said = Number((await foot.getAttribute('aria-valuetext')).match(/^span ([\d.]+)/)?.[1]);
  assert.ok(Math.abs(said * 1000 - old.garland.span_mm - 600) <= 20, `${said}`);
  // nothing is written while the finger is down
  assert.equal((await garland(page, [id, 'arch'])).garland.span_mm, old.garland.span_mm);
  await page.mouse.up();
  await until(page, async ([job, was]) => (await window.airwright.call('open_job', { id: job })).job.pieces.arch.garland.span_mm !== was, [id, old.garland.span_mm]);
  const next = await garland(page, [id, 'arch']);
  // it hangs on a frame whose middle it shares: both feet go 300 mm out
  assert.ok(Math.abs(next.garland.span_mm - old.garland.span_mm - 600) <= 20, `${next.garland.span_mm}`);
  assert.equal(next.x_mm, old.x_mm);
  const there = middle(await foot.boundingBox());
  assert.ok(top.y > 0 && there[0] > middle(a)[0]);
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).click();
  await until(page, async ([job, was]) => (await window.airwright.call('open_job', { id: job })).job.pieces.arch.garland.span_mm === was, [id, old.garland.span_mm]);

  // keys: one centimetre, ten with Shift, kept when the handle is left
  await crown.focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Shift+ArrowUp');
  assert.match(await crown.getAttribute('aria-valuetext'), /^height /);
  await page.keyboard.press('Tab');
  await until(page, async ([job, was]) => (await window.airwright.call('open_job', { id: job })).job.pieces.arch.garland.rise_mm === was + 110, [id, old.garland.rise_mm]);
});

test('the line of the drawing is where the plan hangs the piece, on its frame and free', async (t) => {
  const { page, id } = await design(t, 'same');
  for (const piece of ['arch', 'bar']) {
    const ends = await page.evaluate(async ([job, p]) => {
      const { job: j, private: money } = await window.airwright.call('open_job', { id: job });
      const scene = await window.airwright.compute('scene', { job: j, private: money });
      const rods = scene.tubes.filter((tube) => tube.piece === p && tube.what === 'line');
      return [rods[0].from, rods[rods.length - 1].to].map((at) => [at[0] / 10, at[1] / 10]);
    }, [id, piece]);
    await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/design/${piece}`);
    await way(page, 'Draw');
    // the last knot may stand a millimetre or two past the end, and the drawn points are two apart
    hangs(await drawn(page), ends, 5);
  }
});

test('a path is drawn by touch, its points dragged, added and removed, and all of it undone', async (t) => {
  const { page, id } = await design(t, 'touch', 'bar', { hasTouch: true, viewport: { width: 390, height: 844 } });
  await way(page, 'Draw');
  await page.getByRole('radio', { name: 'Draw by hand' }).check({ force: true });
  const sheet = surface(page);
  // clear of the bars at the bottom
  await sheet.evaluate((e) => e.scrollIntoView({ block: 'start' }));
  const at = await sheet.boundingBox();
  const old = await garland(page, [id, 'bar']);
  const cdp = await page.context().newCDPSession(page);
  const touch = (type, x, y) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] });
  const wave = (i) => [at.x + at.width * (0.15 + 0.7 * (i / 30)), at.y + at.height * (0.5 + 0.2 * Math.sin(i / 4))];
  const scrolled = await page.evaluate(() => [scrollY, document.querySelector('main')?.scrollTop]);
  await touch('touchStart', ...wave(0));
  for (let i = 1; i <= 30; i++) await touch('touchMove', ...wave(i));
  await touch('touchEnd');
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.pieces.bar.garland.shape === 'drawn', id);
  assert.deepEqual(await page.evaluate(() => [scrollY, document.querySelector('main')?.scrollTop]), scrolled, 'a finger that draws does not scroll');
  const live = (p) => Object.entries(p.garland.points).filter(([, q]) => !q.gone).sort((x, y) => (x[1].order < y[1].order ? -1 : 1));
  const drawn = live(await garland(page, [id, 'bar']));
  assert.ok(drawn.length >= 4 && drawn.length <= 24, `${drawn.length} points`);
  for (let i = 1; i < drawn.length; i++) assert.ok(drawn[i][1].x_mm > drawn[i - 1][1].x_mm, 'points in the order of the stroke');

  // the drawn line lies where the finger went
  const first = await page.getByRole('slider', { name: /^Point 1 of/ }).boundingBox();
  const off = Math.hypot(first.x + first.width / 2 - wave(0)[0], first.y + first.height / 2 - wave(0)[1]);
  assert.ok(off < 14, `the first point is ${off} px off the finger`);

  // a point goes by keys; the one before last is removed
  const point = page.getByRole('slider', { name: /^Point 2 of/ });
  await point.focus();
  await page.keyboard.press('Shift+ArrowUp');
  await page.keyboard.press('Enter');
  await until(page, async ([job, key, was]) => (await window.airwright.call('open_job', { id: job })).job.pieces.bar.garland.points[key].y_mm === was + 100, [id, drawn[1][0], drawn[1][1].y_mm]);
  await page.getByRole('button', { name: 'Remove this point' }).click();
  await until(page, async ([job, key]) => (await window.airwright.call('open_job', { id: job })).job.pieces.bar.garland.points[key].gone, [id, drawn[1][0]]);
  for (let i = 0; i < 3; i++) await page.evaluate((job) => window.airwright.call('undo', { id: job }), id);
  const back = await garland(page, [id, 'bar']);
  assert.deepEqual([back.garland.shape, live(back).length, back.x_mm, back.y_mm], [old.garland.shape, 0, old.x_mm, old.y_mm]);
});

test('a path drawn over its frame by mouse stays there once it is planned; a tap on the line adds a point; the piece is moved', async (t) => {
  const { page, id } = await design(t, 'frame');
  await way(page, 'Draw');
  await page.getByRole('radio', { name: 'Draw by hand' }).check({ force: true });
  const at = await surface(page).boundingBox();
  const stroke = (i) => [at.x + at.width * (0.25 + 0.6 * (i / 20)), at.y + at.height * (0.75 - 0.5 * Math.sin((i / 20) * 2.6))];
  await page.mouse.move(...stroke(0));
  await page.mouse.down();
  for (let i = 1; i <= 20; i++) await page.mouse.move(...stroke(i));
  await page.mouse.up();
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.pieces.arch.garland.shape === 'drawn', id);
  const { ends, points } = await page.evaluate(async (job) => {
    const { job: j, private: money } = await window.airwright.call('open_job', { id: job });
    const scene = await window.airwright.compute('scene', { job: j, private: money, depth: 'preview' });
    const rods = scene.tubes.filter((tube) => tube.piece === 'arch' && tube.what === 'line');
    return { ends: [rods[0].from, rods[rods.length - 1].to].map((p) => [p[0] / 10, p[1] / 10]), points: Object.keys(j.pieces.arch.garland.points).length };
  }, id);
  hangs(await drawn(page), ends, 10);

  // a tap on the line between its first two points
  const spot = await page.evaluate(() => {
    const line = document.querySelector('svg[role=group] path.path');
    const near = [...document.querySelectorAll('[data-grip]')].map((g) => g.getBoundingClientRect()).map((r) => [r.x + r.width / 2, r.y + r.height / 2]);
    for (let s = 0; s < line.getTotalLength(); s += 10) {
      const p = line.getPointAtLength(s).matrixTransform(line.getScreenCTM());
      if (near.every(([x, y]) => Math.hypot(x - p.x, y - p.y) > 34)) return [p.x, p.y];
    }
    return null;
  });
  assert.ok(spot, 'a place on the line that is no handle');
  await page.mouse.click(...spot);
  await until(page, async ([job, n]) => Object.keys((await window.airwright.call('open_job', { id: job })).job.pieces.arch.garland.points).length === n + 1, [id, points]);

  await page.getByRole('radio', { name: 'Move it' }).check({ force: true });
  const was = await garland(page, [id, 'arch']);
  await page.getByRole('slider', { name: 'Place of Jetty arch' }).focus();
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await until(page, async ([job, x, y]) => {
    const { arch } = (await window.airwright.call('open_job', { id: job })).job.pieces;
    return arch.x_mm === x + 100 && arch.y_mm === y + 10;
  }, [id, was.x_mm, was.y_mm]);
});

test('the picture is saved as it is seen: a PNG of 1600 by 1000 with the colours of the piece, and with nothing behind it', async (t) => {
  const { page } = await design(t, 'save', 'arch', { acceptDownloads: true });
  await way(page, 'Turn');
  await page.getByRole('button', { name: 'Side', exact: true }).click();
  for (const behind of ['A room of paper', 'Nothing']) {
    await page.getByLabel('Behind it').selectOption({ label: behind });
    const [download] = await Promise.all([page.waitForEvent('download', { timeout: 60000 }), page.getByRole('button', { name: 'Save picture' }).click()]);
    assert.match(download.suggestedFilename(), /picture.*\.png$/);
    const file = join(root, `${behind.length}.png`);
    await download.saveAs(file);
    const look = await page.evaluate(async (data) => {
      const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
      const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const brush = new OffscreenCanvas(picture.width, picture.height).getContext('2d');
      brush.drawImage(picture, 0, 0);
      const { data: px } = brush.getImageData(0, 0, picture.width, picture.height);
      let [clear, rose] = [0, 0];
      for (let i = 0; i < px.length; i += 4) {
        if (px[i + 3] === 0) clear++;
        // old rose is far redder than green, and neither ivory, sand, moss over sand nor paper is
        else if (px[i] > px[i + 1] + 60) rose++;
      }
      return { size: [picture.width, picture.height], clear: clear / (px.length / 4), rose };
    }, readFileSync(file).toString('base64'));
    assert.deepEqual(look.size, [1600, 1000]);
    assert.ok(look.rose > 2000, JSON.stringify(look));
    assert.ok(behind === 'Nothing' ? look.clear > 0.5 : look.clear === 0, JSON.stringify(look));
  }
});

test('all three ways of the picture pass the access rules, on a phone and a desk, light and dark', async (t) => {
  const { page } = await design(t, 'axe', 'arch', { bypassCSP: true });
  await page.evaluate(AXE);
  for (const [width, height] of [[390, 844], [820, 1180], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    for (const theme of ['light', 'dark']) {
      await page.emulateMedia({ colorScheme: theme });
      for (const name of ['Front', 'Turn', 'Draw']) {
        await way(page, name);
        await page.waitForTimeout(400);
        const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
        assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${name} at ${width}, ${theme}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${name} is ${wide} px too wide at ${width}`);
      }
    }
  }
});
