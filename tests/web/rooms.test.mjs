// What every place and room promises: in the sun every letter has 7 : 1, and while nobody touches it nothing runs but the clock.
// By hand: node --test tests/web/rooms.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, call, launch, open } from './browser.mjs';
import { paleLetters } from './contrast.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-rooms-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const TABLET = { width: 820, height: 1180 };
const PLACES = ['jobs', 'stockroom', 'people', 'settings'];
const ROOMS = ['brief', 'design', 'make', 'times', 'load', 'site', 'papers'];
/** How long nobody touches a room, ms: a minute is tried by hand with AIRWRIGHT_IDLE_MS=60000. */
const IDLE_MS = Number(process.env.AIRWRIGHT_IDLE_MS ?? 10_000);

/** A page of its own with the demo job. `go` leads to one of its places or rooms, and answers once it is shown. */
async function inApp(t, name, more = {}, before = () => {}) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { viewport: TABLET, ...more });
  await before(context);
  const page = await open(context, site.url);
  let rows = [];
  for (let i = 0; i < 100 && rows.length === 0; i++) {
    rows = await call(page, 'list_jobs');
    await page.waitForTimeout(100);
  }
  const go = async (where) => {
    await page.evaluate((hash) => (location.hash = hash), PLACES.includes(where) ? `#/${where}` : `#/job/${rows[0].id}/${where}`);
    await page.locator('h1').first().waitFor();
    // work that takes longer says so after a moment
    await page.waitForTimeout(600);
    await page.getByRole('progressbar', { name: 'Reckoning the plan' }).waitFor({ state: 'detached', timeout: 120_000 });
  };
  return { page, go };
}

test('in the sunlight theme every letter of every place and room has 7 : 1', { timeout: 400_000 }, async (t) => {
  const { page, go } = await inApp(t, 'sun', { bypassCSP: true }, (context) =>
    context.addInitScript(() => localStorage.setItem('airwright.settings', JSON.stringify({ theme: 'sun' }))),
  );
  await page.evaluate(AXE);
  for (const where of [...PLACES, ...ROOMS]) {
    await go(where);
    await page.waitForTimeout(2500);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), 'sun');
    // two judges: the access rules, which see what lies over what but let large letters off with 4.5 : 1 and pass over what they cannot
    // tell, and the sum over every letter
    const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ['color-contrast-enhanced'] }));
    assert.deepEqual(violations.flatMap((v) => v.nodes.map((n) => [n.target.join(' '), n.any[0]?.message])), [], where);
    const { letters, pale } = await page.evaluate(paleLetters);
    assert.ok(letters > 100, `${where} has words`);
    assert.deepEqual(pale, [], where);
  }
});

/** Everything that the page asks to be woken by is counted as it happens. */
function countWakes() {
  window.woken = [];
  const wrap = (on, name) => {
    const real = on[name].bind(on);
    on[name] = (...args) => {
      const [given] = args;
      args[0] = (...more) => (window.woken.push(name), given(...more));
      return real(...args);
    };
  };
  for (const name of ['setTimeout', 'setInterval', 'requestAnimationFrame', 'requestIdleCallback']) wrap(window, name);
  // a question to a worker is work too
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (...args) {
    window.woken.push('postMessage');
    return post.apply(this, args);
  };
}

for (const group of [PLACES, ROOMS.slice(0, 4), ROOMS.slice(4)]) {
  test(`while nobody touches ${group.join(', ')}, nothing runs but the clock at the full minute`, { timeout: 120_000 + group.length * (IDLE_MS + 30_000) }, async (t) => {
    const { page, go } = await inApp(t, `idle-${group[0]}`, {}, (context) => context.addInitScript(countWakes));
    for (const where of group) {
      await go(where);
      // the plan is packed to the end, pictures are made, the strip is gone: nothing for four seconds
      let before = -1;
      for (let i = 0; i < 15; i++) {
        await page.waitForTimeout(4000);
        const now = await page.evaluate(() => window.woken.length);
        if (now === before) break;
        before = now;
      }
      await page.evaluate(() => (window.woken.length = 0));
      await page.waitForTimeout(IDLE_MS);
      const woken = await page.evaluate(() => window.woken);
      const minutes = Math.ceil(IDLE_MS / 60_000);
      assert.ok(woken.filter((name) => name === 'setTimeout').length <= minutes, `${where} is woken by ${woken}`);
      assert.deepEqual(woken.filter((name) => !['setTimeout', 'postMessage'].includes(name)), [], where);
      // at a full minute a room may ask for the figures of the day
      assert.ok(woken.length <= 3 * minutes && (woken.includes('setTimeout') || woken.length === 0), `${where} is woken by ${woken}`);
      t.diagnostic(`${where}: ${woken.length ? woken.join(', ') : 'nothing'} in ${IDLE_MS / 1000} s`);
    }
    // the count counts
    await page.evaluate(() => new Promise((r) => setTimeout(() => requestAnimationFrame(r), 10)));
    assert.deepEqual((await page.evaluate(() => window.woken)).slice(-2), ['setTimeout', 'requestAnimationFrame']);
  });
}
