// One cluster of a garland made up by hand: several balloons, each row with its size, colour and diameter, or like another cluster; cards,
// sizing and order follow. By hand: node --test tests/web/design-makeup.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, holds, launch, live, open } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-makeup-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** A new garland with its third cluster chosen, and what it may be replaced by laid open. */
async function begun(t, name, [width, height], more = {}) {
  const site = await serve(t, '/app', WEB, 'csp');
  const context = await launch(t, join(root, name), { viewport: { width, height }, hasTouch: true, ...more });
  const page = await open(context, site.url);
  page.setDefaultTimeout(15000);
  await page.getByRole('button', { name: 'New job' }).tap();
  await page.getByRole('link', { name: 'Design' }).first().tap();
  await page.getByRole('button', { name: 'Add a garland' }).tap();
  await page.getByRole('img', { name: /^Front view of Garland: \d+ balloons in \w/ }).waitFor();
  const id = page.url().split('/job/')[1].split('/')[0];
  const job = () => page.evaluate(async (i) => (await window.airwright.call('open_job', { id: i })).job, id);
  await page.getByRole('option', { name: /^Cluster 3:/ }).tap();
  const tools = page.getByRole('group', { name: 'Cluster 3', exact: true });
  await tools.locator('summary').filter({ hasText: 'Replace by' }).tap();
  const rows = tools.getByRole('group', { name: /, blown to / });
  return { page, job, tools, rows, garland: async () => live((await job()).pieces)[0].garland };
}

async function type(field, value) {
  await field.fill(value);
  await field.press('Tab');
}

test('two rows of two sizes and two colours, one of them new to the piece, are tied, carded, sized and ordered; one undo takes them back', async (t) => {
  const { page, tools, rows, garland } = await begun(t, 'rows', [820, 1180]);
  const was = await garland();
  // it begins with what the cluster has
  const words = (await page.getByRole('option', { name: /^Cluster 3:/ }).getAttribute('aria-label')).match(/(\d+) [^,]+/g).map(Number.parseFloat);
  const counts = await Promise.all((await rows.getByRole('spinbutton', { name: 'Balloons' }).all()).map(async (f) => Number(await f.inputValue())));
  assert.equal(counts.reduce((a, b) => a + b), words.reduce((a, b) => a + b));
  while ((await rows.count()) > 1) await tools.getByRole('button', { name: /^Take out/ }).last().tap();

  const first = rows.first();
  await type(first.getByRole('spinbutton', { name: 'Balloons' }), '2');
  await first.getByRole('combobox', { name: 'Size' }).selectOption({ label: '11 in' });
  await type(first.getByRole('spinbutton', { name: 'Blown to' }), '9');
  const lone = tools.getByRole('status').filter({ hasText: '2 balloons. A cluster has 4, 6 or 8.' });
  await lone.waitFor();
  assert.ok(await tools.getByRole('button', { name: 'Replace', exact: true }).isDisabled(), 'two balloons are no cluster');
  await tools.getByRole('button', { name: 'Add balloons' }).tap();
  const second = rows.last();
  await second.getByRole('combobox', { name: 'Size' }).selectOption({ label: '5 in' });
  const colours = second.getByRole('combobox', { name: 'Colour' });
  const stock = (await colours.locator('option').allTextContents()).find((o) => / \(?from the stockroom|stockroom/i.test(o));
  assert.ok(stock, 'a colour of the stockroom may be taken');
  await colours.selectOption({ label: stock });
  await tools.getByRole('status').filter({ hasText: /^A quad/ }).waitFor();
  await tools.getByRole('button', { name: 'Replace', exact: true }).tap();

  const now = await holds(page, async () => {
    const g = await garland();
    assert.equal(live(g.hand).length, 1);
    return g;
  });
  const [hand] = live(now.hand);
  assert.deepEqual([hand.id, hand.locked, hand.balls.map((b) => b.size_in)], ['2', true, [11, 11, 5, 5]]);
  assert.deepEqual(hand.balls.slice(0, 2).map((b) => b.blown_dmm), [2286, 2286]);
  assert.equal(new Set(hand.balls.map((b) => b.shade)).size, 2);
  const joined = live(now.palette).find((s) => s.share_pct === 0);
  assert.equal(hand.balls[2].shade, joined.id, 'the new colour joined the palette without a share');
  assert.equal(live(now.palette).length, live(was.palette).length + 1);
  await page.getByRole('option', { name: /^Cluster 3: 2 .+ 11 in, 2 .+ 5 in, locked/ }).waitFor();
  // it is in the Make room: on a card, on the sizing sheet and on the order list
  const colour = await page.evaluate(async ([i, c]) => (await window.airwright.call('open_job', { id: i })).job.colours[c].name, [page.url().split('/job/')[1].split('/')[0], joined.colour]);
  const design = page.url();
  for (const tab of ['clusters', 'sizing', 'order']) {
    await page.evaluate((to) => (location.hash = to), `#/job/${design.split('/job/')[1].split('/')[0]}/make/${tab}`);
    await page.locator('main').getByText(colour).first().waitFor({ state: 'attached' });
  }
  await page.goto(design);
  await page.getByRole('option', { name: /^Cluster 3: 2 .+ 11 in, 2 .+ 5 in, locked/ }).waitFor();
  await page.locator('header').getByRole('button', { name: 'Undo', exact: true }).tap();
  await holds(page, async () => {
    const g = await garland();
    assert.deepEqual([live(g.hand).length, live(g.palette).length], [0, live(was.palette).length]);
  });
  assert.deepEqual(page.said, []);
});

test('a cluster is made like another one, by its picture and by its number, and by keys', async (t) => {
  const { page, tools, rows } = await begun(t, 'like', [390, 844]);
  const told = async (n) => (await page.getByRole('option', { name: new RegExp(`^Cluster ${n}:`) }).getAttribute('aria-label')).replace(/^Cluster \d+: /, '').replace(/, locked$/, '');
  const kind = tools.getByRole('group', { name: 'Like another cluster' }).getByRole('button').first();
  const [, number, balls] = (await kind.getAttribute('aria-label')).match(/^Like cluster (\d+): (.*)$/);
  assert.notEqual(balls, await told(3));
  await kind.tap();
  await tools.getByRole('button', { name: 'Replace', exact: true }).tap();
  await holds(page, async () => assert.deepEqual((await told(3)).split(', ').sort(), balls.split(', ').sort()));
  // by number and keys alone: the focus stays where it can be used
  const other = Number(number) === 1 ? 4 : 1;
  const wanted = (await told(other)).split(', ').sort();
  const like = tools.getByRole('spinbutton', { name: 'Like cluster number' });
  await like.focus();
  await like.fill(String(other));
  await page.keyboard.press('Enter');
  const n = await rows.count();
  if (n > 1) {
    const gone = tools.getByRole('button', { name: /^Take out/ }).last();
    await gone.focus();
    await page.keyboard.press('Enter');
    await holds(page, async () => assert.equal(await rows.count(), n - 1));
    assert.match(await page.evaluate(() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent), /^Take out|Add balloons/);
    await like.fill('2');
    await like.press('Tab');
    await like.fill(String(other));
    await like.press('Tab');
  }
  const replace = tools.getByRole('button', { name: 'Replace', exact: true });
  await replace.focus();
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.deepEqual((await told(3)).split(', ').sort(), wanted));
  assert.notEqual(await page.evaluate(() => document.activeElement.tagName), 'BODY');
  // a row emptied of sense is said, not taken
  await like.fill('400');
  await like.press('Tab');
  await holds(page, async () => assert.equal(await like.getAttribute('aria-invalid'), 'true'));
  assert.ok(await page.evaluate(() => document.querySelector('main').scrollWidth <= document.querySelector('main').clientWidth + 1), 'nothing is wider than the screen');
  assert.deepEqual(page.said, []);
});

test('axe finds nothing in the rows, in three themes; every target is large enough for a thumb', async (t) => {
  const { page, tools } = await begun(t, 'axe', [390, 844], { bypassCSP: true });
  await page.evaluate(AXE);
  for (const theme of ['paper', 'hall', 'sun']) {
    await page.evaluate((to) => (document.documentElement.dataset.theme = to), theme);
    const found = await page.evaluate(async () => {
      const result = await globalThis.axe.run(document);
      return { passes: result.passes.length, violations: result.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target).join(', ')}`) };
    });
    assert.ok(found.passes > 20, `axe looked at only ${found.passes} rules`);
    assert.deepEqual(found.violations, [], theme);
  }
  const targets = await tools.locator('button, select').evaluateAll((all) => all.map((e) => [e.getAttribute('aria-label') ?? e.textContent.trim(), e.getBoundingClientRect()]).map(([name, { width, height }]) => ({ name, width, height })));
  assert.ok(targets.length > 15);
  for (const { name, width, height } of targets) assert.ok(width >= 44 && height >= 44, `${name} is ${Math.round(width)} by ${Math.round(height)} px`);
});
