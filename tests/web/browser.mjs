// The distribution's own Chromium through playwright-core: no browser is downloaded.
import { spawn } from 'node:child_process';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(new URL('../../ui/package.json', import.meta.url));
const { chromium } = require('playwright-core');
const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
// no sandbox for root, no shared memory folder in containers
const ARGS = ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'];
const sleep = (ms) => new Promise((r) => setTimeout(r, ms));

/** A browser with a profile folder of its own: what is stored outlives the browser.
 *  Closed when test `t` ends, failed or not: an open browser keeps the test runner waiting for ever. */
export async function launch(t, profile, more = {}) {
  const context = await chromium.launchPersistentContext(profile, { executablePath: CHROMIUM, headless: true, args: ARGS, ...more });
  t.after(() => context.close().catch(() => {}));
  return context;
}

/** The same, in a process group that can be killed with no warning. */
export async function launchToKill(t, profile) {
  const more = ['--headless=new', '--remote-debugging-port=0', '--no-first-run', `--user-data-dir=${profile}`, 'about:blank'];
  const p = spawn(CHROMIUM, [...ARGS, ...more], { detached: true, stdio: ['ignore', 'ignore', 'pipe'] });
  let killed = false;
  const kill = async () => {
    if (killed) return;
    killed = true;
    process.kill(-p.pid, 'SIGKILL');
    await sleep(800); // its children let go of the profile a moment later
  };
  t.after(kill);
  const address = await new Promise((ok, no) => {
    let said = '';
    p.on('exit', () => no(new Error(`the browser did not start: ${said}`)));
    p.stderr.on('data', (d) => {
      const m = (said += d).match(/DevTools listening on (\S+)/);
      if (m) ok(m[1]);
    });
  });
  const browser = await chromium.connectOverCDP(address);
  return { context: browser.contexts()[0], kill };
}

/** Until the page is in this mode; mode `error` is never waited for in vain. */
export async function mode(page, want) {
  await page.waitForFunction((m) => [m, 'error'].includes(window.airwright?.state.mode), want, { timeout: 20000 });
  const state = await page.evaluate(() => ({ ...window.airwright.state }));
  if (state.mode !== want) throw new Error(JSON.stringify(state));
}

/** A page at the address in this mode, with what it complains about in `page.said`. */
export async function open(context, url, want = 'owner') {
  const page = await context.newPage();
  page.said = [];
  page.on('console', (m) => ['error', 'warning'].includes(m.type()) && page.said.push(m.text().slice(0, 300)));
  page.on('pageerror', (e) => page.said.push(e.message));
  await page.goto(url);
  await mode(page, want);
  return page;
}

/** A method of the page's own door: the answer, or { fault }. Bytes pass as lists of numbers. */
export const ask = (page, method, ...args) =>
  page.evaluate(
    ([m, given]) => {
      const plain = (v) => (v?.body instanceof Uint8Array ? { ...v, body: [...v.body] } : v);
      return window.airwright[m](...given.map((a) => (a?.bytes ? new Uint8Array(a.bytes) : a))).then(plain, (fault) => ({ fault }));
    },
    [method, args],
  );

export const call = (page, name, args) => ask(page, 'call', name, args);

/** The access rules, to be evaluated in a page. */
export const AXE = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

/** What the asked function answers, as soon as it answers something: a predicate that asks the desk is no business of the page's own
 *  polling. */
export async function until(page, asked, arg) {
  for (let i = 0; i < 150; i++) {
    const said = await page.evaluate(asked, arg);
    if (said) return said;
    await page.waitForTimeout(100);
  }
  return assert.fail(`not within fifteen seconds: ${asked}`);
}

/** The service worker controls the page: from here on it loads with no network. */
export const controlled = (page) =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    for (let i = 0; i < 100 && !navigator.serviceWorker.controller; i++) await new Promise((r) => setTimeout(r, 100));
    return !!navigator.serviceWorker.controller;
  });

/** Until a check holds; what it threw last if it never does. */
export async function holds(page, check) {
  let last;
  for (let i = 0; i < 100; i++) {
    try {
      return await check();
    } catch (thrown) {
      last = thrown;
    }
    await page.waitForTimeout(100);
  }
  throw last;
}

/** What a list of a job holds, in its order. */
export const live = (list) => Object.entries(list).filter(([, v]) => !v.gone).sort((a, b) => (a[1].order < b[1].order ? -1 : 1)).map(([id, v]) => ({ id, ...v }));
