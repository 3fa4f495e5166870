// The Design room keeps the picture, the count and undo in sight while a field is changed, whatever the window, and covers no field with
// them. By hand: node --test tests/web/design-sight.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, open } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-sight-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The Design room with a garland that is counted. */
async function begun(t, name, [width, height], more = {}) {
  const site = await serve(t, '/app', WEB, 'csp');
  const context = await launch(t, join(root, name), { viewport: { width, height }, hasTouch: true, ...more });
  const page = await open(context, site.url);
  page.setDefaultTimeout(15000);
  await page.getByRole('button', { name: 'New job' }).tap();
  await page.getByRole('link', { name: 'Design' }).first().tap();
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  await page.getByRole('img', { name: /^Front view of Garland: \d+ balloons in \w/ }).waitFor();
  return page;
}

/** What lies over the middle of an element: itself, or the words of what covers it. */
const covered = (locator) =>
  locator.evaluate((e) => {
    const box = e.getBoundingClientRect();
    const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return top && (e.contains(top) || top.closest('label')?.contains(e)) ? '' : `${e.outerHTML.slice(0, 80)} under ${top?.outerHTML.slice(0, 80)}`;
  });

const picture = (page) => page.getByRole('img', { name: /^Front view of Garland/ });
const count = (page) => page.getByRole('status').filter({ hasText: /^\d+ balloons$/ });
/** the one over the picture, where the head of the room is out of sight with its own */
const undo = (page) => page.locator('header, .stage').getByRole('button', { name: 'Undo', exact: true }).last();

/** Picture, count and undo are seen whole. */
async function inSight(page, what) {
  const { height } = page.viewportSize();
  for (const [name, it] of Object.entries({ picture: picture(page), count: count(page), undo: undo(page) })) {
    const box = await it.boundingBox();
    assert.ok(box && box.y >= 0 && box.y + box.height <= height, `${name} at ${what}: ${JSON.stringify(box)}`);
    assert.equal(await covered(it), '', `${name} at ${what}`);
  }
}

for (const [name, size, least] of [
  ['tablet', [820, 1180], 200],
  ['phone', [390, 844], 100],
  ['small phone', [360, 640], 50],
  ['tablet on its side', [1180, 820], 200],
  ['old tablet on its side', [1024, 768], 200],
  ['desk', [1440, 900], 240],
  ['phone on its side', [844, 390], 100],
  ['desk at 200 %', [720, 450], 100],
]) {
  test(`${name}: whatever is changed, the picture, the count and undo are in sight, and no field with the focus is covered`, async (t) => {
    const page = await begun(t, name, size);
    for (const label of ['Where in the room', 'Share of Ivory', 'Share, 5 in', 'Quads', 'How much of the line may show']) {
      const field = page.locator('.form').getByLabel(label, { exact: true }).first();
      await field.evaluate((e) => (document.activeElement?.blur(), e.focus()));
      await inSight(page, label);
      assert.equal(await covered(field), '', `${label} with the focus`);
      const { height } = await picture(page).boundingBox();
      assert.ok(height >= least, `the picture at ${label} is ${height} px high`);
    }
    // up through the whole form by keys: what has the focus never hides beneath the picture
    await page.getByRole('option', { name: /^Cluster 1:/ }).focus();
    let seen = 0;
    for (; seen < 60; seen++) {
      await page.keyboard.press('Shift+Tab');
      const focused = page.locator(':focus');
      if (await focused.evaluate((e) => e.closest('.side') !== null)) break;
      assert.equal(await covered(focused), '', `step ${seen + 1} back`);
    }
    assert.ok(seen >= 30, `only ${seen} fields were met`);
    assert.deepEqual(page.said, []);
  });
}

test('phone: a share changed at the end of the form is seen in picture and count, and taken back on the spot', async (t) => {
  const page = await begun(t, 'change', [390, 844]);
  const more = page.getByRole('button', { name: 'Share, 16 in, more' });
  await more.evaluate((e) => e.scrollIntoView({ block: 'center' }));
  const said = () => page.locator('.stage').evaluate((e) => [e.querySelector('[role=status]').textContent, e.querySelector('svg[role=img]').ariaLabel]);
  const becomes = async (what, check) => {
    for (let i = 0; i < 100 && !check(await said()); i++) await page.waitForTimeout(100);
    assert.ok(check(await said()), `${what}: ${await said()}`);
  };
  const was = await said();
  const top = (await more.boundingBox()).y;
  await more.tap();
  await becomes('another count and picture', (now) => now.every((word, i) => word !== was[i]));
  assert.ok(Math.abs((await more.boundingBox()).y - top) < 2, 'the field stays under the thumb');
  await undo(page).tap();
  await becomes('as it was', (now) => now.every((word, i) => word === was[i]));
  assert.deepEqual(page.said, []);
});

test('what is below does not move when the picture becomes small; a balloon tapped there brings its cluster up beneath it', async (t) => {
  const page = await begun(t, 'calm', [820, 1180]);
  const place = () => page.evaluate(() => document.getElementById('clusters').getBoundingClientRect().top + document.querySelector('main').scrollTop);
  const scroll = async (y) => {
    await page.evaluate((to) => document.querySelector('main').scrollTo(0, to), y);
    await page.waitForTimeout(200);
  };
  const [large, at] = [(await picture(page).boundingBox()).height, await place()];
  const heights = new Set();
  for (let y = 0; y < 1600; y += 100) {
    await scroll(y);
    assert.ok(Math.abs((await place()) - at) < 1, `${y} px down`);
    heights.add(Math.round((await picture(page).boundingBox()).height));
  }
  assert.equal(heights.size, 2, `large, then small: ${[...heights]}`);
  const small = await picture(page).boundingBox();
  assert.ok(small.height < large * 0.8);
  await page.touchscreen.tap(small.x + small.width / 2, small.y + small.height / 2);
  const tools = page.getByRole('group', { name: /^Cluster \d+$/ });
  await tools.waitFor();
  await inSight(page, 'the cluster');
  assert.equal(await covered(tools.getByRole('button', { name: 'Lock', exact: true })), '');
  // a drawing that was begun waits while there is no room for it
  await scroll(0);
  await page.getByRole('radio', { name: 'Draw', exact: true }).check({ force: true });
  await page.getByRole('radio', { name: 'Move it' }).check({ force: true });
  await scroll(1600);
  await inSight(page, 'a drawing');
  assert.equal(await page.getByRole('group', { name: /^Drawing of the path/ }).isVisible(), false);
  await scroll(0);
  assert.ok(await page.getByRole('radio', { name: 'Move it' }).isChecked());
  assert.deepEqual(page.said, []);
});

test('phone: beside the small picture it is turned and turned back, and nothing scrolls', async (t) => {
  const page = await begun(t, 'ways', [390, 844]);
  const top = () => page.evaluate(() => document.querySelector('main').scrollTop);
  await page.evaluate(() => document.querySelector('main').scrollTo(0, 1600));
  await inSight(page, 'the ways');
  const was = await top();
  const seen = await picture(page).boundingBox();
  for (const name of ['Turn', 'Front']) {
    const way = page.getByRole('radio', { name, exact: true });
    const box = await way.boundingBox();
    assert.ok(box.width >= 44 && box.height >= 44 && box.x >= seen.x + seen.width, `${name}: ${JSON.stringify(box)} beside ${JSON.stringify(seen)}`);
    assert.equal(await covered(way), '', name);
    await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
    await (name === 'Front' ? picture(page) : page.locator('.view canvas')).waitFor();
    assert.ok(await way.isChecked());
    assert.equal(await top(), was);
  }
  await page.getByRole('button', { name: 'Fold the picture to a strip' }).tap();
  await page.getByRole('button', { name: 'Unfold the picture' }).waitFor();
  assert.equal(await page.getByRole('radio', { name: 'Turn', exact: true }).count(), 0, 'in a strip is no room for them');
  assert.deepEqual(page.said.filter((s) => !s.includes('GPU stall')), []);
});

test('over the picture a long list of pieces is folded to the chosen one, opens by finger and key, and folds once one is chosen', async (t) => {
  const page = await begun(t, 'list', [820, 1180]);
  await page.evaluate(async () => {
    await window.airwright.call('first_start', { today: '2027-05-26' });
    const demo = (await window.airwright.call('list_jobs')).find((job) => job.name === 'Halloran and Reyes');
    location.hash = `#/job/${demo.id}/design`;
  });
  const rows = page.getByRole('list', { name: 'Pieces' }).getByRole('listitem');
  const all = page.getByRole('button', { name: 'All 4' });
  const names = () => rows.locator('b').allTextContents();
  await page.getByRole('img', { name: /^Front view of Jetty arch: / }).waitFor();
  assert.deepEqual(await names(), ['Jetty arch']);
  assert.equal(await all.getAttribute('aria-expanded'), 'false');
  await all.tap();
  assert.equal(await all.getAttribute('aria-expanded'), 'true');
  assert.deepEqual(await names(), ['Jetty arch', 'Arch frame', 'Bar swag', 'Loft chains']);
  await rows.getByRole('button', { name: /^Bar swag/ }).tap();
  await page.getByRole('img', { name: /^Front view of Bar swag: / }).waitFor();
  assert.deepEqual(await names(), ['Bar swag']);
  await all.press('Enter');
  assert.equal(await rows.count(), 4);
  await rows.getByRole('button', { name: /^Loft chains/ }).press('Enter');
  await page.getByRole('img', { name: /^Front view of Loft chains: / }).waitFor();
  assert.deepEqual(await names(), ['Loft chains']);
  assert.ok(await rows.getByRole('button', { name: /^Loft chains/ }).evaluate((b) => b === document.activeElement), 'the focus is on what was chosen');
  // beside the picture there is room for all
  await page.setViewportSize({ width: 1180, height: 820 });
  await all.waitFor({ state: 'detached' });
  assert.equal(await rows.count(), 4);
  assert.deepEqual(page.said, []);
});

test('the picture folds to a strip, which is remembered; on a screen with a keyboard up it is smaller, and stays at the edge that is seen', async (t) => {
  const page = await begun(t, 'fold', [390, 844]);
  const down = () => page.evaluate(() => document.querySelector('main').scrollTo(0, 2400));
  const pinned = () => page.evaluate(() => parseFloat(getComputedStyle(document.querySelector('main')).getPropertyValue('--pinned')));
  await down();
  await page.getByRole('button', { name: 'Fold the picture to a strip' }).tap();
  await page.getByRole('button', { name: 'Unfold the picture' }).waitFor();
  await inSight(page, 'the strip');
  assert.ok((await pinned()) <= 56);
  await page.reload();
  await picture(page).waitFor();
  await down();
  await inSight(page, 'the strip again');
  await page.getByRole('button', { name: 'Unfold the picture' }).tap();
  await page.getByRole('button', { name: 'Fold the picture to a strip' }).waitFor();
  const alone = await pinned();
  // headless Chromium has no such keyboard: the window's seen part is told as a phone tells it, pushed up by 120 px
  await page.evaluate(() => {
    Object.defineProperty(visualViewport, 'height', { value: 480, configurable: true });
    Object.defineProperty(visualViewport, 'offsetTop', { value: 120, configurable: true });
    visualViewport.dispatchEvent(new Event('resize'));
  });
  await page.waitForFunction(() => Math.abs(document.querySelector('.bar').getBoundingClientRect().top - 120) < 1);
  const box = await picture(page).boundingBox();
  assert.ok(box.y >= 120 && box.y + box.height < 120 + 480 / 2, JSON.stringify(box));
  assert.ok((await pinned()) - 120 < alone);
  assert.deepEqual(page.said, []);
});

test('axe finds nothing in the form under the small picture, the strip, or beside the picture, in three themes', async (t) => {
  const page = await begun(t, 'axe', [820, 1180], { bypassCSP: true });
  await page.evaluate(AXE);
  for (const [size, folded] of [[[820, 1180], false], [[390, 844], true], [[1440, 900], false]]) {
    await page.setViewportSize({ width: size[0], height: size[1] });
    await page.evaluate(() => document.querySelector('main').scrollTo(0, 1600));
    if (folded) await page.getByRole('button', { name: 'Fold the picture to a strip' }).tap();
    for (const theme of ['paper', 'hall', 'sun']) {
      await page.evaluate((to) => (document.documentElement.dataset.theme = to), theme);
      const found = await page.evaluate(async () => {
        const result = await globalThis.axe.run(document);
        return { passes: result.passes.length, violations: result.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(', ')}`) };
      });
      assert.ok(found.passes > 20, `axe looked at only ${found.passes} rules`);
      assert.deepEqual(found.violations, [], `${size}, ${theme}`);
    }
  }
  assert.deepEqual(page.said, []);
});
