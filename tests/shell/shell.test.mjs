// The real window, end to end. `cargo xtask test` builds the two programs and runs this; by hand, from the root:
//   xvfb-run -a -s "-screen 0 1280x900x24" node --test tests/shell/shell.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { Driver } from './driver.mjs';

/** The program as it is given away. */
const PROGRAM = resolve(process.env.AIRWRIGHT_PROGRAM ?? 'target/debug/airwright');
/** The same with the desk's misbehaving commands. */
const PROBE = resolve(process.env.AIRWRIGHT_PROBE ?? 'target/airwright-probe');

const root = mkdtempSync(join(tmpdir(), 'airwright-shell-'));
const LOG = join(root, 'log.txt');
const saved = join(root, 'saved');
const picked = join(root, 'Größe.airwright');
mkdirSync(saved);
writeFileSync(picked, Buffer.from([0, 255, 10]));

/** A driver whose program keeps everything below `name`. */
function start(name) {
  const dir = join(root, name);
  const env = { AIRWRIGHT_DATA_DIR: join(dir, 'jobs'), XDG_DATA_HOME: dir, XDG_CACHE_HOME: dir, XDG_CONFIG_HOME: dir };
  // panics are asked for here: their traces would only fill the log
  return Driver.start({ ...env, AIRWRIGHT_SAVE_DIR: saved, AIRWRIGHT_OPEN_FILE: picked, RUST_BACKTRACE: '0' }, LOG);
}

after(() => {
  console.log(`driver and programs said: ${readFileSync(LOG, 'utf8') || '(nothing)'}`);
  // WebKit may still be writing its shader cache
  rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

test('the program hides its SQLite from the web view’s', () => {
  const names = execFileSync('nm', ['-D', '--defined-only', PROGRAM], { encoding: 'utf8', maxBuffer: 2 ** 27 });
  assert.deepEqual(names.match(/ sqlite3_\w+/g) ?? [], []);
});

describe('the program as it is given away', () => {
  let d;
  before(
    async () => {
      d = await start('plain');
      await d.open(PROGRAM);
    },
    { timeout: 60000 },
  );
  after(() => d?.stop());

  test('the page is ours, its script ran, and the database is open', async () => {
    assert.match(await d.cmd('GET', '/title'), /Airwright/);
    await d.mode('owner');
    assert.ok(existsSync(join(root, 'plain/jobs/airwright.db')));
  });

  test('a fault reaches the page with its code, through every door', async () => {
    for (const method of ['call', 'callBytes', 'compute', 'computeBytes']) {
      assert.equal((await d.ask(method, 'nope')).fault.code, 'unknown_command', method);
    }
  });

  test('it has no command that misbehaves on purpose', async () => {
    assert.equal((await d.call('probe_panic')).fault.code, 'unknown_command');
  });

  test('what no capability allows is refused', async () => {
    for (const cmd of ['plugin:window|set_title', 'plugin:dialog|open', 'plugin:fs|read_file', 'plugin:event|listen']) {
      const r = await d.invoke(cmd, { label: 'main', value: 'x' });
      assert.match(String(r.fault), /not allowed/, cmd);
    }
  });

  test('the policy blocks inline script, inline style, eval and outside connections', async () => {
    const seen = await d.js(`const done = arguments[0], hits = [];
      document.addEventListener("securitypolicyviolation", (e) => hits.push(e.effectiveDirective));
      const s = document.createElement("script"); s.textContent = "window.evil = 1"; document.head.append(s);
      const st = document.createElement("style"); st.textContent = "h1{color:red}"; document.head.append(st);
      let ev = "allowed"; try { (0, eval)("1"); } catch (e) { ev = "blocked"; }
      fetch("http://localhost:9/").catch(() => {}).then(() => setTimeout(() => done({ hits, evil: window.evil ?? null, ev }), 300));`);
    assert.equal(seen.evil, null);
    assert.equal(seen.ev, 'blocked');
    for (const what of ['script-src', 'style-src', 'connect-src']) {
      assert.ok(seen.hits.some((h) => h.startsWith(what)), `${what} was not enforced: ${seen.hits}`);
    }
  });

  test('a file is saved whole, and no name leads out of the folder', async () => {
    const bytes = Array.from({ length: 3000 }, (_, i) => i % 256);
    const said = await d.ask('saveFile', '../Crew pack Größe.pdf', { bytes }, 'application/pdf');
    const path = join(saved, 'Crew pack Größe.pdf');
    assert.deepEqual(said, { answer: path });
    assert.deepEqual([...readFileSync(path)], bytes);
  });

  test('a place that cannot be written to is a fault that says so', async () => {
    mkdirSync(join(saved, 'taken.pdf'));
    const { fault } = await d.ask('saveFile', 'taken.pdf', { bytes: [1] }, 'application/pdf');
    assert.equal(fault.code, 'not_saved');
    assert.ok(!existsSync(join(saved, 'taken.pdf.part')));
  });

  test('the chosen file arrives with its name', async () => {
    assert.deepEqual(await d.ask('openFile', '.airwright'), { answer: { name: 'Größe.airwright', bytes: [0, 255, 10] } });
  });
});

describe('the program with commands that misbehave', () => {
  let d;
  before(
    async () => {
      d = await start('probe');
      await d.open(PROBE);
      await d.mode('owner');
    },
    { timeout: 60000 },
  );
  after(() => d?.stop());

  test('words and bytes come back as they went, in every door', async () => {
    const words = { name: 'Łódź “Größe”', n: 1.5, long: 'x'.repeat(100_000) };
    const bytes = Array.from({ length: 1000 }, (_, i) => i % 256);
    for (const method of ['call', 'compute']) assert.deepEqual(await d.ask(method, 'probe_echo', words), { answer: words });
    for (const method of ['callBytes', 'computeBytes']) {
      assert.deepEqual(await d.ask(method, 'probe_echo', words, { bytes }), { answer: { answer: words, body: bytes } });
    }
  });

  test('a panic behind the door is a fault, and the program lives on', async () => {
    for (const method of ['call', 'callBytes', 'compute', 'computeBytes']) {
      assert.equal((await d.ask(method, 'probe_panic')).fault.code, 'internal', method);
    }
    assert.deepEqual(await d.call('probe_echo', 7), { answer: 7 });
  });

  test('a tick never waits for plans, and a plan can be stopped', async () => {
    const r = await d.js(`const done = arguments[0], { call, compute } = window.airwright;
      const stop = new AbortController();
      const endless = [1, 2, 3, 4].map(() => compute('probe_spin', null, stop.signal).catch((f) => f.code));
      setTimeout(async () => {
        const since = performance.now();
        const tick = await call('probe_echo', 'tick');
        const ms = performance.now() - since;
        stop.abort();
        done({ tick, ms, stopped: await Promise.all(endless) });
      }, 200);`);
    console.log(`a tick beside four endless plans: ${r.ms} ms`);
    assert.equal(r.tick, 'tick');
    assert.deepEqual(r.stopped, Array(4).fill('stopped'));
  });
});

test('what was acknowledged survives a restart and kill -9', async (t) => {
  const open = async () => {
    const d = await start('kept');
    t.after(() => d.stop());
    await d.open(PROGRAM);
    await d.mode('owner');
    return d;
  };
  const create = async (d, name) => assert.equal((await d.call('create_job', { name })).answer?.job.name, name);
  const names = async (d) => (await d.call('list_jobs')).answer.map((row) => row.name).filter((n) => n.startsWith('Test')).sort();
  let d = await open();
  await create(d, 'Test Zoë');
  await d.close();
  d = await open();
  assert.deepEqual(await names(d), ['Test Zoë']);
  for (let round = 1; round <= 3; round++) {
    await create(d, `Test round ${round}`);
    await d.kill(); // straight after the answer
    d = await open();
    const rounds = Array.from({ length: round }, (_, i) => `Test round ${i + 1}`);
    assert.deepEqual(await names(d), ['Test Zoë', ...rounds].sort());
  }
});

test('two programs never open one database', async (t) => {
  const one = await start('shared');
  t.after(() => one.stop());
  await one.open(PROGRAM);
  await one.mode('owner');
  const two = await start('shared');
  t.after(() => two.stop());
  await two.open(PROGRAM);
  const state = await two.mode('error');
  assert.match(state.detail, /another Airwright/);
  assert.equal((await two.call('nope')).fault.code, 'open_elsewhere');
  await one.close();
  await two.ask('reopen');
  await two.mode('owner');
});

test('a database that cannot be read is said, not hidden', async (t) => {
  mkdirSync(join(root, 'damaged/jobs'), { recursive: true });
  writeFileSync(join(root, 'damaged/jobs/airwright.db'), 'this is no database'.repeat(100));
  const d = await start('damaged');
  t.after(() => d.stop());
  await d.open(PROGRAM);
  const state = await d.mode('error');
  assert.match(state.detail, /cannot be opened/);
  assert.equal((await d.call('nope')).fault.code, 'store_unavailable');
});
