// The Times room in a browser: bars reached by keys, a task pinned and let go, another way taken, each taken back; the day live.
// By hand: node --test tests/web/times.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-times-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The demo job's Times on a desk. */
async function room(t, name, more = { viewport: { width: 1440, height: 900 } }) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { bypassCSP: true, ...more });
  const page = await open(context, site.url);
  await page.locator('h1').waitFor();
  await until(page, async () => (await window.airwright.call('list_jobs')).length > 0);
  const id = await page.evaluate(async () => (await window.airwright.call('list_jobs'))[0].id);
  await page.evaluate((job) => (location.hash = `#/job/${job}/times`), id);
  await page.locator('[data-task="carry"]').first().waitFor({ timeout: 30000 });
  return { page, id };
}

const pins = (page, id) => page.evaluate(async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.pins).filter((p) => !p.gone).map((p) => [p.task, p.at]), id);

test('a task is pinned five minutes earlier by keys, taken back, pinned by its sheet, and let go', async (t) => {
  const { page, id } = await room(t, 'pin');
  const bar = page.locator('[data-task="carry"]').first();
  await bar.focus();
  await page.keyboard.press('Shift+ArrowLeft');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.pins).some((p) => p.task === 'carry' && !p.gone), id);
  const [[, at]] = await pins(page, id);
  const minute = Number(at.slice(14));
  assert.equal(minute % 5, 0, at);
  // the plan keeps it, and the bar says so
  await page.locator('[data-task="carry"]', { hasText: 'Pinned' }).first().waitFor({ timeout: 15000 });
  const words = await bar.textContent();
  assert.ok(words.includes(at.slice(11)), `${at}: ${words}`);

  await page.getByRole('button', { name: 'Undo' }).first().click();
  await page.locator('[data-task="carry"]', { hasNotText: 'Pinned' }).first().waitFor({ timeout: 15000 });
  assert.deepEqual(await pins(page, id), []);

  await bar.focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  await sheet.getByRole('button', { name: '5 min earlier' }).click();
  await sheet.getByText('Pinned: it stays at this time.').waitFor({ timeout: 15000 });
  await sheet.getByRole('button', { name: 'Take the pin off' }).click();
  await sheet.getByText('Pinned: it stays at this time.').waitFor({ state: 'detached', timeout: 15000 });
  assert.deepEqual(await pins(page, id), []);
});

test('people at a task are set by its sheet, undone, and left to the plan again', async (t) => {
  const { page, id } = await room(t, 'people');
  const teams = () => page.evaluate(async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.teams).filter((x) => !x.gone).map((x) => [x.task, x.people]), id);
  const bar = page.locator('[data-task="extras.arch"]').first();
  await bar.focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  const people = sheet.getByRole('combobox', { name: 'People at it' });
  assert.equal(await people.inputValue(), 'plan');
  for (const [n, who] of [['1', /^[^ ]+$/], ['2', / and /]]) {
    await people.selectOption(n);
    await sheet.locator('dd').first().filter({ hasText: who }).waitFor({ timeout: 15000 });
    await until(page, async ([job, n]) => Object.values((await window.airwright.call('open_job', { id: job })).job.teams).some((x) => x.people === Number(n)), [id, n]);
    assert.deepEqual(await teams(), [['extras.arch', Number(n)]]);
  }
  await people.selectOption('plan');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.teams).every((x) => x.gone), id);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Undo' }).first().click();
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.teams).some((x) => !x.gone && x.people === 2), id);
});

// once the sheet opened when the finger lifted, and the click of the same tap pinned the task or shut the sheet at once
test('a finger that taps a bar opens its sheet and touches nothing on it', async (t) => {
  const { page, id } = await room(t, 'finger', { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
  const bars = page.locator('[data-task]');
  const many = Math.min(await bars.count(), 12);
  assert.ok(many > 6, `${many} bars`);
  for (let i = 0; i < many; i += 1) {
    // each third of the screen: where the sheet, its buttons and what is behind it come to lie
    for (const share of [0.2, 0.5, 0.8]) {
      const at = await bars.nth(i).evaluate((bar, y) => {
        window.scrollBy(0, bar.getBoundingClientRect().top - innerHeight * y);
        const r = bar.getBoundingClientRect();
        const point = { x: r.x + Math.min(r.width / 2, 30), y: r.y + r.height / 2 };
        return bar.contains(document.elementFromPoint(point.x, point.y)) ? point : null;
      }, share);
      if (at === null) continue;
      await page.touchscreen.tap(at.x, at.y);
      await page.getByRole('dialog').waitFor({ timeout: 3000 });
      await page.waitForTimeout(400);
      assert.ok(await page.getByRole('dialog').isVisible(), `bar ${i} at ${share}: its sheet is shut again`);
      assert.deepEqual(await pins(page, id), [], `bar ${i} at ${share}`);
      await page.keyboard.press('Escape');
      await page.getByRole('dialog').waitFor({ state: 'detached', timeout: 3000 });
    }
  }
});

test('a finger that holds a bar drags it, and one that swipes over it scrolls', async (t) => {
  const { page, id } = await room(t, 'hold', { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
  const cdp = await page.context().newCDPSession(page);
  const touch = (type, points) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y]) => ({ x, y })) });
  const bar = page.locator('[data-task="carry"]').first();
  const middle = () =>
    bar.evaluate((b) => {
      b.scrollIntoView({ block: 'center' });
      const r = b.getBoundingClientRect();
      return [r.x + Math.min(r.width / 2, 40), r.y + r.height / 2, r.height > r.width * 2 || document.querySelector('.lane.down') !== null];
    });
  const go = async ([x, y], dx, dy) => {
    for (let i = 1; i <= 10; i += 1) {
      await touch('touchMove', [[x + (dx * i) / 10, y + (dy * i) / 10]]);
      await page.waitForTimeout(16);
    }
    await touch('touchEnd', []);
  };
  let [x, y, down] = await middle();
  const before = await page.evaluate(() => document.scrollingElement.scrollTop + document.querySelector('main').scrollTop);
  await touch('touchStart', [[x, y]]);
  await go([x, y], 0, -200);
  await page.waitForTimeout(600);
  const after = await page.evaluate(() => document.scrollingElement.scrollTop + document.querySelector('main').scrollTop);
  assert.notEqual(after, before, 'the page stayed');
  assert.deepEqual(await pins(page, id), []);

  [x, y, down] = await middle();
  await touch('touchStart', [[x, y]]);
  await page.locator('[data-task="carry"].lifted').first().waitFor({ timeout: 3000 });
  await go([x, y], down ? 0 : -60, down ? -60 : 0);
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.pins).some((p) => p.task === 'carry' && !p.gone), id);
  assert.equal(await page.getByRole('dialog').count(), 0, 'a drag opens nothing');
});

test('a bar is dragged with the mouse, and a pin that cannot be kept says why', async (t) => {
  const { page, id } = await room(t, 'drag');
  const bar = page.locator('[data-task="finish"]').first();
  await bar.evaluate((e) => e.scrollIntoView({ block: 'center', inline: 'center' }));
  await page.waitForTimeout(300);
  const at = await bar.boundingBox();
  await page.mouse.move(at.x + at.width / 2, at.y + 40);
  await page.mouse.down();
  await page.mouse.move(at.x + at.width / 2 + 60, at.y + 44, { steps: 5 });
  await page.mouse.up();
  // it would end after ready-by: it is told, with a cure that cures
  await page.getByText('cannot begin at').first().waitFor({ timeout: 15000 });
  assert.equal((await pins(page, id))[0][0], 'finish');
  await page.getByRole('button', { name: 'Take the pin off' }).first().click();
  await page.getByText('cannot begin at').waitFor({ state: 'detached', timeout: 15000 });
  assert.deepEqual(await pins(page, id), []);
});

test('too late a load-in says what does not go together, and its cure cures', async (t) => {
  const { page, id } = await room(t, 'cure');
  await page.evaluate(async (job) => {
    const { times } = (await window.airwright.call('open_job', { id: job })).job;
    const value = `${times.ready_by.slice(0, 11)}13:00`;
    await window.airwright.call('edit_job', { id: job, label: 'Load-in', edits: [{ op: 'set', part: 'job', path: ['times', 'load_in'], value }] });
  }, id);
  await page.reload();
  const found = page.locator('.finding', { hasText: 'too late for the work before ready-by' });
  await found.waitFor({ timeout: 30000 });
  const words = await found.textContent();
  assert.match(words, /([Ll]oad-in at 13:00.*do not go together|do not go together.*load-in at 13:00|keeps .*load-in at 13:00)/);
  assert.match(words, /Cheapest first: load-in \d+ (h|min).* earlier, at \d\d:\d\d/);
  await found.getByRole('button', { name: /^Load-in at / }).click();
  await found.waitFor({ state: 'detached', timeout: 15000 });
  await page.getByText(/(after|as) load-in begins/).first().waitFor();
  // and what is said of the start is no more than is known
  await page.getByText(/Work begins (as )?late/).first().waitFor();
});

test('one more person: compared, taken, and taken back', async (t) => {
  const { page, id } = await room(t, 'whatif');
  await page.getByRole('button', { name: 'Compare' }).click();
  await page.getByRole('button', { name: /Take it.*One more person/ }).click({ timeout: 60000 });
  const crew = (job) => page.evaluate(async (j) => Object.values((await window.airwright.call('open_job', { id: j })).job.crew).filter((c) => !c.gone).length, job);
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.crew).some((c) => c.name === 'One more' && !c.gone), id);
  const more = await crew(id);
  await page.getByRole('button', { name: 'Undo' }).first().click();
  await until(page, async (job) => !Object.values((await window.airwright.call('open_job', { id: job })).job.crew).some((c) => c.name === 'One more' && !c.gone), id);
  assert.equal(await crew(id), more - 1);
});

test('every view passes the access rules, on a phone and a desk, and arrows reach every bar', async (t) => {
  const { page } = await room(t, 'axe');
  await page.evaluate(AXE);
  for (const [width, height] of [[390, 844], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    for (const view of ['Things', 'Phases', 'List', 'People']) {
      await page.getByRole('radio', { name: view }).check({ force: true });
      await page.waitForTimeout(300);
      const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
      assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${view} at ${width}`);
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0, `${view} is too wide at ${width}`);
    }
  }
  // across: along the first row by one arrow, from the bar in the tab order
  const row = page.locator('section.bars').first().locator('ol').first();
  const bars = await row.locator('button').count();
  await row.locator('button').first().focus();
  const seen = new Set();
  for (let i = 0; i < bars; i++) {
    seen.add(await page.evaluate(() => document.activeElement.dataset.task));
    await page.keyboard.press('ArrowRight');
  }
  assert.equal(seen.size, bars);
});
