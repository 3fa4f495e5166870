// The built web app's transport in a real browser: who owns the database, what is lost when a worker dies, what
// works with no network. `cargo xtask test` builds both apps and runs this; by hand: node --test tests/web/host.test.mjs
import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, controlled, launch, mode, open } from './browser.mjs';
import { serve } from './serve.mjs';

const dist = (name) => fileURLToPath(new URL(`../../ui/dist/${name}`, import.meta.url));
/** The app as it is given away. */
const WEB = process.env.AIRWRIGHT_WEB ?? dist('web');
/** The same with the desk's misbehaving commands, and without a service worker. */
const PROBE = process.env.AIRWRIGHT_WEB_PROBE ?? dist('probe');

const root = mkdtempSync(join(tmpdir(), 'airwright-web-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));
const FOLDER = '/some/sub/folder';
const profile = (name) => join(root, name);

test('the page starts, owns the database, and complains about nothing', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  const page = await open(await launch(t, profile('start')), site.url);
  assert.equal(await page.evaluate(() => crossOriginIsolated), false);
  assert.deepEqual(page.said, []);
});

test('a fault reaches the page with its code, through every door', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  const page = await open(await launch(t, profile('fault')), site.url);
  for (const method of ['call', 'callBytes', 'compute', 'computeBytes']) {
    assert.equal((await ask(page, method, 'nope')).fault.code, 'unknown_command', method);
    // what misbehaves on purpose is not in the app that is given away
    assert.equal((await ask(page, method, 'probe_panic')).fault.code, 'unknown_command', method);
  }
});

test('words and bytes come back as they went, in every door', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const page = await open(await launch(t, profile('echo')), site.url);
  const words = { name: 'Łódź “Größe”', n: 1.5, long: 'x'.repeat(100_000) };
  const bytes = Array.from({ length: 1000 }, (_, i) => i % 256);
  for (const method of ['call', 'compute']) assert.deepEqual(await ask(page, method, 'probe_echo', words), words);
  for (const method of ['callBytes', 'computeBytes']) {
    assert.deepEqual(await ask(page, method, 'probe_echo', words, { bytes }), { answer: words, body: bytes });
    assert.deepEqual(await ask(page, method, 'probe_echo', 1), { answer: 1, body: [] });
  }
});

test('offline: reload, and a restart of the browser, with the server gone', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  let context = await launch(t, profile('offline'));
  let page = await open(context, site.url);
  assert.ok(await controlled(page));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');
  await context.setOffline(true);
  await page.reload();
  await mode(page, 'owner');
  assert.equal((await call(page, 'nope')).fault.code, 'unknown_command');
  await context.close();
  context = await launch(t, profile('offline'));
  page = await open(context, site.url);
  assert.equal((await ask(page, 'compute', 'nope')).fault.code, 'unknown_command');
});

test('every file of the app is kept for the time without a network', () => {
  const files = readdirSync(WEB, { recursive: true, withFileTypes: true })
    .filter((f) => f.isFile())
    .map((f) => relative(WEB, join(f.parentPath, f.name)));
  const worker = readFileSync(join(WEB, 'sw.js'), 'utf8');
  const kept = [...worker.matchAll(/url:\s*"([^"]+)"/g)].map((m) => m[1]);
  // the service worker and the library that it brings keep themselves
  const wanted = files.filter((f) => f !== 'sw.js' && !/^workbox-\w+\.js$/.test(f));
  assert.deepEqual(wanted.filter((f) => !kept.includes(f)), []);
});

test('two tabs: the second waits, takes over, and hands back when it closes', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const context = await launch(t, profile('tabs'));
  const one = await open(context, site.url);
  const two = await open(context, site.url, 'waiting');
  assert.equal((await call(two, 'probe_echo', 1)).fault.code, 'open_elsewhere');
  assert.equal(await ask(two, 'compute', 'probe_echo', 1), 1, 'what needs no database works in both');
  let since = Date.now();
  await ask(two, 'takeover');
  await mode(two, 'owner');
  await mode(one, 'waiting');
  console.log('take-over', Date.now() - since, 'ms');
  assert.equal(await call(two, 'probe_echo', 2), 2);
  assert.equal((await call(one, 'probe_echo', 1)).fault.code, 'open_elsewhere');
  since = Date.now();
  await two.close();
  await mode(one, 'owner');
  console.log('owner closed', Date.now() - since, 'ms');
  assert.equal(await call(one, 'probe_echo', 3), 3);
});

test('a panic in wasm costs the worker, and the page says so', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const page = await open(await launch(t, profile('panic')), site.url);
  for (const method of ['call', 'callBytes']) {
    assert.equal((await ask(page, method, 'probe_panic')).fault.code, 'internal');
    // no waiting here: a question that comes while the worker is replaced is answered by the next one
    assert.equal(await call(page, 'probe_echo', 1), 1);
  }
  for (const method of ['compute', 'computeBytes']) {
    assert.equal((await ask(page, method, 'probe_panic')).fault.code, 'internal');
    assert.equal(await ask(page, 'compute', 'probe_echo', 1), 1);
  }
  assert.equal(await page.evaluate(() => window.airwright.state.restarts), 4);
  assert.ok(page.said.some((line) => line.includes('asked to')), 'where the panic came from is on the console');
});

test('a worker that only dies is given up, and says so', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const page = await open(await launch(t, profile('deaths')), site.url);
  // one straight after the other: the page asks as well once a worker runs, and an answer begins the count anew
  const codes = await page.evaluate(async () => {
    const codes = [];
    for (let i = 0; i < 4; i++) codes.push(await window.airwright.call('probe_panic').catch((fault) => fault.code));
    return codes;
  });
  assert.deepEqual(codes, Array(4).fill('internal'));
  assert.equal(await page.evaluate(() => window.airwright.state.mode), 'error');
  assert.equal((await call(page, 'probe_echo', 1)).fault.code, 'host_lost');
});

test('a tick never waits for a plan, and a plan can be stopped', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const page = await open(await launch(t, profile('plan')), site.url);
  const r = await page.evaluate(async () => {
    const { call, compute } = window.airwright;
    await call('probe_echo', null); // after whatever the page asked for at its start
    const stop = new AbortController();
    const endless = compute('probe_spin', null, stop.signal).catch((f) => f.code);
    await new Promise((r) => setTimeout(r, 300));
    const since = performance.now();
    const tick = await call('probe_echo', 'tick');
    const tick_ms = performance.now() - since;
    stop.abort();
    const stopped = await endless;
    const back = performance.now();
    const again = await compute('probe_echo', 'again');
    return { tick, stopped, again, tick_ms, again_ms: performance.now() - back };
  });
  console.log(r);
  assert.deepEqual([r.tick, r.stopped, r.again], ['tick', 'stopped', 'again']);
  // stopping is not dying: as often as one likes
  for (let i = 0; i < 6; i++) {
    const code = page.evaluate(() => {
      const stop = new AbortController();
      setTimeout(() => stop.abort(), 50);
      return window.airwright.compute('probe_spin', null, stop.signal).catch((f) => f.code);
    });
    assert.equal(await code, 'stopped');
  }
  assert.equal(await ask(page, 'compute', 'probe_echo', 1), 1);
  assert.equal(await page.evaluate(() => window.airwright.state.restarts), 0);
});

test('a new version waits until it is asked for', async (t) => {
  const next = profile('next-version');
  cpSync(WEB, next, { recursive: true });
  // another version: the page differs, and the service worker knows it under another revision
  const html = readFileSync(join(next, 'index.html'), 'utf8');
  writeFileSync(join(next, 'index.html'), html.replace('<body>', '<body data-version="next">'));
  const worker = readFileSync(join(next, 'sw.js'), 'utf8');
  const revised = worker.replace(/(url:\s*"index\.html",\s*revision:\s*")[^"]+/, '$1next');
  const other = worker.replace(/(revision:\s*")[^"]+(",\s*url:\s*"index\.html")/, '$1next$2');
  const changed = revised === worker ? other : revised;
  assert.notEqual(changed, worker);
  writeFileSync(join(next, 'sw.js'), changed);
  const version = (page) => page.evaluate(() => document.body.dataset.version ?? 'first');

  const site = await serve(t, FOLDER, WEB);
  const page = await open(await launch(t, profile('update')), site.url);
  assert.ok(await controlled(page));
  site.dir = next;
  await page.reload();
  await page.waitForFunction(() => window.airwright?.state.update === 'update waiting', undefined, { timeout: 20000 });
  await page.reload();
  assert.equal(await version(page), 'first', 'a plain reload keeps the old one');
  await page.waitForFunction(() => window.airwright?.state.update === 'update waiting', undefined, { timeout: 20000 });
  await Promise.all([page.waitForNavigation(), page.evaluate(() => void window.airwright.update())]);
  await mode(page, 'owner');
  assert.equal(await version(page), 'next');
});

test('a file is given away as a download, and a chosen file arrives', async (t) => {
  const site = await serve(t, FOLDER, WEB, 'csp');
  const page = await open(await launch(t, profile('files')), site.url);
  const bytes = Array.from({ length: 3000 }, (_, i) => i % 256);
  const [download, said] = await Promise.all([page.waitForEvent('download'), ask(page, 'saveFile', 'Crew pack.pdf', { bytes }, 'application/pdf')]);
  assert.equal(said, 'Crew pack.pdf');
  assert.equal(download.suggestedFilename(), 'Crew pack.pdf');
  assert.deepEqual([...readFileSync(await download.path())], bytes);

  // listened for before it is asked for: a dialog that nobody answers is taken for "cancel"
  const dialog = page.waitForEvent('filechooser');
  const chosen = page.evaluate(() => window.airwright.openFile('.airwright').then((f) => ({ name: f.name, bytes: [...f.bytes] })));
  const chooser = await dialog;
  await chooser.setFiles({ name: 'Größe.airwright', mimeType: 'application/octet-stream', buffer: Buffer.from([0, 255, 10]) });
  assert.deepEqual(await chosen, { name: 'Größe.airwright', bytes: [0, 255, 10] });
  assert.deepEqual(page.said, []);
});

test('with no room to keep anything, that is said', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  const context = await launch(t, profile('no-room'));
  // what a private window of some browsers does; the worker sees the same object
  await context.route('**/store.worker-*.js', async (route) => {
    const answer = await route.fetch();
    const denied = `StorageManager.prototype.getDirectory = () => Promise.reject(new DOMException('no storage here', 'SecurityError'));`;
    await route.fulfill({ response: answer, body: `${denied}\n${await answer.text()}` });
  });
  const page = await open(context, site.url, 'error');
  assert.match(await page.evaluate(() => window.airwright.state.detail), /no storage here|SecurityError/);
  assert.equal((await call(page, 'nope')).fault.code, 'store_unavailable');
});

for (const how of ['nomime', 'csp', 'coi']) {
  test(`served with ${how}, online and offline`, async (t) => {
    const site = await serve(t, FOLDER, WEB, how);
    const page = await open(await launch(t, profile(how)), site.url);
    assert.equal((await call(page, 'nope')).fault.code, 'unknown_command');
    assert.equal((await ask(page, 'compute', 'nope')).fault.code, 'unknown_command');
    assert.ok(await controlled(page));
    await site.stop();
    await page.reload();
    await mode(page, 'owner');
    assert.equal((await call(page, 'nope')).fault.code, 'unknown_command');
    const expected = how === 'nomime' ? /MIME type/ : /^$/; // the wasm falls back, with a warning
    assert.ok(page.said.every((line) => expected.test(line)), page.said.join('\n'));
  });
}
