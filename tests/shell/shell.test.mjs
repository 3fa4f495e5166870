// The real window, end to end. `cargo xtask test` builds the two programs and runs this; by hand, from the root:
//   xvfb-run -a -s "-screen 0 1280x900x24" node --test tests/shell/shell.test.mjs
import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
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

/** The surroundings of a program that keeps everything below `name`. */
function surroundings(name) {
  const dir = join(root, name);
  const env = { AIRWRIGHT_DATA_DIR: join(dir, 'jobs'), XDG_DATA_HOME: dir, XDG_CACHE_HOME: dir, XDG_CONFIG_HOME: dir };
  // panics are asked for here: their traces would only fill the log
  return { ...env, AIRWRIGHT_SAVE_DIR: saved, AIRWRIGHT_OPEN_FILE: picked, RUST_BACKTRACE: '0' };
}

/** A driver whose program keeps everything below `name`. */
const start = (name, more = {}) => Driver.start({ ...surroundings(name), ...more }, LOG);

/** A message bus of its own: over it a second start finds the first. It has to outlive them: whoever loses it ends at once. */
async function startBus() {
  const daemon = spawn('dbus-daemon', ['--session', '--nofork', '--print-address'], { stdio: ['ignore', 'pipe', 'ignore'] });
  const address = await new Promise((ok, no) => {
    daemon.on('error', no);
    daemon.stdout.once('data', (said) => ok(String(said).trim()));
  });
  return { env: { DBUS_SESSION_BUS_ADDRESS: address }, stop: () => daemon.kill() };
}

/** A program started once more, by somebody who double-clicks a file: its exit code. */
const startOnceMore = (env, args, cwd) =>
  new Promise((ok, no) => {
    const p = spawn(PROGRAM, args, { cwd, env: { ...process.env, ...env }, stdio: 'ignore', timeout: 20000 });
    p.on('error', no);
    p.on('exit', ok);
  });

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

  // A window that is driven opens no dialog of the printer: what can be seen here is that its pages are drawn, each with its own shape.
  test('a paper is looked at, page by page', async () => {
    const seen = await d.js(`const done = arguments[0], { call } = window.airwright;
      const when = async (f) => { for (;;) { const v = f(); if (v) return v; await new Promise((r) => setTimeout(r, 100)); } };
      const button = (name) => [...document.querySelectorAll('button')].find((b) => b.textContent.trim() === name && !b.disabled);
      (async () => {
        await call('first_start', { today: '2027-05-26' });
        const [{ id }] = await call('list_jobs');
        location.hash = '#/job/' + id + '/papers';
        (await when(() => button('Preview Client summary'))).click();
        await when(() => button('Print'));
        const pages = [...document.querySelectorAll('.printed svg')];
        const { width, height } = pages[0].getBoundingClientRect();
        done({ pages: pages.length, shape: height / width, texts: pages.map((p) => p.querySelectorAll('text').length) });
      })();`);
    assert.equal(seen.pages, 2);
    assert.ok([297 / 210, 279.4 / 215.9].some((shape) => Math.abs(seen.shape - shape) < 0.01), `${seen.shape}`);
    assert.ok(seen.texts.every((n) => n > 20), `${seen.texts}`);
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

test('a job with a photo is saved in the window, and opened by a start with it and by a second start beside a running window', async (t) => {
  const home = await start('home');
  t.after(() => home.stop());
  await home.open(PROGRAM);
  await home.mode('owner');
  const { id } = (await home.call('list_jobs')).answer[0];
  const photo = await home.js(`const done = arguments[1];
    (async () => {
      const canvas = document.createElement('canvas');
      canvas.width = 320; canvas.height = 240;
      canvas.getContext('2d').fillRect(0, 0, 100, 100);
      const blob = await new Promise((ok) => canvas.toBlob(ok, 'image/jpeg'));
      const { answer } = await window.airwright.callBytes('add_photo', { job: arguments[0] }, new Uint8Array(await blob.arrayBuffer()));
      await window.airwright.call('edit_job', { id: arguments[0], label: 'Photo', edits: [{ op: 'set', part: 'job', path: ['venue', 'photo'], value: answer.hash }] });
      return answer;
    })().then(done, (e) => done({ fault: e.message ?? String(e) }));`, id);
  assert.match(photo.hash ?? photo.fault, /^[0-9a-f]{64}$/);

  // by the button of the window: the program puts the photo in, straight from its file
  const { name } = (await home.call('list_jobs')).answer[0];
  await home.js('location.hash = arguments[0]; arguments[1]()', `#/job/${id}/papers`);
  await home.js(`const done = arguments[0];
    (function look() {
      const save = [...document.querySelectorAll('button')].find((b) => b.innerText.includes('Save: The whole job') || b.textContent.includes('Save: The whole job'));
      if (!save) return setTimeout(look, 50);
      save.click();
      done();
    })();`);
  const file = join(saved, `${name}.airwright`);
  for (let i = 0; i < 100 && !existsSync(file); i++) await new Promise((r) => setTimeout(r, 100));
  const bytes = readFileSync(file);
  const whole = (await home.ask('callBytes', 'export_job', { id, crew_copy: false })).answer;
  assert.deepEqual([...bytes], whole.body, 'the file in parts is the file in one piece');
  assert.ok(bytes.includes(`photos/${photo.hash}.jpg`));

  // another computer, where the file is double-clicked
  const bus = await startBus();
  let there;
  t.after(async () => {
    await there?.stop();
    bus.stop();
  });
  there = await start('there', bus.env);
  await there.open(PROGRAM, [file]);
  await there.mode('owner');
  await there.sheet(`${name} is here now`);
  assert.ok((await there.call('list_jobs')).answer.some((row) => row.id === id));
  assert.deepEqual(readdirSync(join(root, 'there/jobs/photos')), [`${photo.hash}.jpg`]);
  await there.js('[...document.querySelectorAll("dialog[open] button")].find((b) => b.getAttribute("aria-label") === "Close" || b.innerText.trim() === "Close").click(); arguments[0]()');

  // a tick at home comes in through a second start, which gives the file to the window that is open and ends
  await home.call('tick', { id, step: 'load.van', done: true, skipped: false, quantity: 1, what: 'Load the van', who: 'Ada', took_s: 0 });
  const later = (await home.ask('callBytes', 'export_job', { id, crew_copy: false })).answer;
  writeFileSync(join(saved, 'später.airwright'), Buffer.from(later.body));
  assert.equal(await startOnceMore({ ...surroundings('there'), ...bus.env }, ['später.airwright'], saved), 0);
  await there.sheet('1 tick');
  const ticks = Object.values((await there.call('open_job', { id })).answer.job.ticks);
  assert.deepEqual(ticks.map((tick) => [tick.step, tick.who]), [['load.van', 'Ada']]);
});

test('the system is told which files are ours, and gives them to the program by their names', () => {
  const { bundle } = JSON.parse(readFileSync('src-tauri/tauri.conf.json', 'utf8'));
  const [job] = bundle.fileAssociations;
  assert.deepEqual([job.ext, job.mimeType], [['airwright'], 'application/x-airwright']);
  // Shared MIME-info Database specification 0.21: what the package installs says that such names mean this kind
  const [[to, from]] = Object.entries(bundle.linux.deb.files);
  assert.match(to, /^\/usr\/share\/mime\/packages\//);
  const mime = readFileSync(join('src-tauri', from), 'utf8');
  assert.match(mime, /mime-type type="application\/x-airwright"/);
  assert.match(mime, /glob pattern="\*\.airwright"/);
});
