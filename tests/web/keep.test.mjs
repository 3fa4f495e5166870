// What was acknowledged is there: after a reload with no network, a restart, a lost worker, another tab, a killed
// browser. By hand: node --test tests/web/keep.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, controlled, launch, launchToKill, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const built = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const WEB = process.env.AIRWRIGHT_WEB ?? built('ui/dist/web');
const PROBE = process.env.AIRWRIGHT_WEB_PROBE ?? built('ui/dist/probe');
const CLI = process.env.AIRWRIGHT_CLI ?? built('target/debug/airwright-cli');

const root = mkdtempSync(join(tmpdir(), 'airwright-keep-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));
const FOLDER = '/jobs';
const profile = (name) => join(root, name);

const create = async (page, name) => {
  const made = await call(page, 'create_job', { name });
  assert.equal(made.job?.name, name, JSON.stringify(made.fault));
  return made.id;
};
/** The names of the jobs that a test made, sorted; the demo job is not among them. */
const names = async (page) => (await call(page, 'list_jobs')).map((row) => row.name).filter((n) => n.startsWith('Test')).sort();

test('a job made offline is there after a reload and a restart, with the server gone', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  let context = await launch(t, profile('offline'));
  let page = await open(context, site.url);
  assert.ok(await controlled(page));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');
  await create(page, 'Test Größe');
  await context.setOffline(true);
  await page.reload();
  await mode(page, 'owner');
  assert.deepEqual(await names(page), ['Test Größe']);
  await context.close();
  context = await launch(t, profile('offline'));
  page = await open(context, site.url);
  assert.deepEqual(await names(page), ['Test Größe']);
});

test('a tab that takes over sees what the other one saved', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  const context = await launch(t, profile('tabs'));
  const one = await open(context, site.url);
  await create(one, 'Test one');
  const two = await open(context, site.url, 'waiting');
  await ask(two, 'takeover');
  await mode(two, 'owner');
  await create(two, 'Test two');
  await two.close();
  await mode(one, 'owner');
  assert.deepEqual(await names(one), ['Test one', 'Test two']);
});

test('a panic in wasm costs the worker, not the jobs', async (t) => {
  const site = await serve(t, FOLDER, PROBE);
  const page = await open(await launch(t, profile('panic')), site.url);
  await create(page, 'Test kept');
  assert.equal((await call(page, 'probe_panic')).fault.code, 'internal');
  assert.deepEqual(await names(page), ['Test kept']);
});

test('a backup goes to the native program and comes back; rubbish is refused and nothing is lost', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  const page = await open(await launch(t, profile('backup')), site.url);
  await create(page, 'Test in the browser');
  const backup = await ask(page, 'callBytes', 'backup');
  await create(page, 'Test after the backup');

  const refused = await ask(page, 'callBytes', 'restore', null, { bytes: Array(5000).fill(0) });
  assert.ok(refused.fault.code, 'rubbish was taken');
  assert.deepEqual(await names(page), ['Test after the backup', 'Test in the browser']);

  // the native program takes the file, adds a job, and gives it back
  const [from, to, data] = ['from.db', 'to.db', 'native'].map((n) => join(root, n));
  writeFileSync(from, Buffer.from(backup.body));
  const cli = (...words) => JSON.parse(execFileSync(CLI, ['call', ...words, '--data', data], { encoding: 'utf8', maxBuffer: 2 ** 27 }));
  cli('restore', 'null', '--in', from);
  cli('create_job', JSON.stringify({ name: 'Test natively' }));
  cli('backup', 'null', '--out', to);
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.evaluate(() => void (window.chosen = window.airwright.openFile('.db')))]);
  await chooser.setFiles(to);
  await page.evaluate(async () => window.airwright.callBytes('restore', null, (await window.chosen).bytes));
  assert.deepEqual(await names(page), ['Test in the browser', 'Test natively']);
});

test('kill -9: what was acknowledged is there', async (t) => {
  const site = await serve(t, FOLDER, WEB);
  let b = await launchToKill(t, profile('kill'));
  let page = await open(b.context, site.url);
  const again = async () => {
    await b.kill();
    b = await launchToKill(t, profile('kill'));
    page = await open(b.context, site.url);
  };
  const wanted = [];
  for (let round = 1; round <= 3; round++) {
    wanted.push(`Test round ${round}`);
    await create(page, wanted.at(-1));
    await again(); // straight after the answer
    assert.deepEqual(await names(page), wanted);
  }
  for (let k = 0; k < 3; k++) {
    // at some moment while jobs are made one after the other
    const before = (await names(page)).length;
    await page.evaluate(() => {
      window.answered = 0;
      void (async () => {
        for (;;) {
          await window.airwright.call('create_job', { name: 'Test loop' });
          window.answered++;
        }
      })();
    });
    await until(page, () => window.answered > 0);
    await new Promise((r) => setTimeout(r, 237 * k));
    const answered = await page.evaluate(() => window.answered);
    await again();
    const there = (await names(page)).length - before;
    assert.ok(there >= answered, `${answered} were acknowledged, ${there} are there`);
  }
  // restoring checks every page of the file: a damaged one would be refused
  const backup = await ask(page, 'callBytes', 'backup');
  const file = join(root, 'killed.db');
  writeFileSync(file, Buffer.from(backup.body));
  execFileSync(CLI, ['call', 'restore', 'null', '--in', file, '--data', join(root, 'killed')]);
});
