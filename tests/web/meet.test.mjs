// Three browsers and a native program work offline on one job through a long day: ticks, steps left out, own steps, photos, notes,
// damage, the walk-through, signatures, the count back. They meet through files in several orders, and end with the same job:
// every tick, every photo's bytes and every signature there; one of them is killed at a random moment.
// By hand: node --test tests/web/meet.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, launch, launchToKill, open } from './browser.mjs';
import { serve } from './serve.mjs';

const built = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const WEB = process.env.AIRWRIGHT_WEB ?? built('ui/dist/web');
const CLI = process.env.AIRWRIGHT_CLI ?? built('target/debug/airwright-cli');
const root = mkdtempSync(join(tmpdir(), 'airwright-meet-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const SEED = 2027;
const ROUNDS = 4;
const STEPS = ['pump.one', 'string.two', 'hang.three', 'tidy.four', 'load.five'];

/** The same numbers in every run: a linear congruential generator (Numerical Recipes, ranqd1). */
function numbers(seed) {
  let at = seed >>> 0;
  return (below) => {
    at = (Math.imul(at, 1664525) + 1013904223) >>> 0;
    return Math.floor((at / 2 ** 32) * below);
  };
}

const sha256 = (bytes) => createHash('sha256').update(bytes).digest('hex');

/** A picture of the browser's own making, and as many others of it as are wanted: each with a remark of its own (ITU-T T.81, B.2.4.5). */
async function camera(page) {
  const list = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(640, 480);
    canvas.getContext('2d').fillRect(0, 0, 320, 240);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  });
  const bytes = Buffer.from(list);
  return (remark) => {
    const text = Buffer.from(remark);
    const length = text.length + 2;
    return Buffer.concat([bytes.subarray(0, 2), Buffer.from([0xff, 0xfe, length >> 8, length & 255]), text, bytes.subarray(2)]);
  };
}

const answered = (answer) => {
  assert.ok(!answer?.fault, JSON.stringify(answer?.fault));
  return answer;
};

/** A device whose jobs are in a browser. */
function inBrowser(name, page) {
  return {
    name,
    page,
    call: async (command, args = null) => answered(await call(device(name).page, command, args)),
    file: async (id, crew_copy) => Buffer.from(answered(await ask(device(name).page, 'callBytes', 'export_job', { id, crew_copy })).body),
    take: async (bytes) => answered(await ask(device(name).page, 'callBytes', 'open_job_file', null, { bytes: [...bytes] })).answer,
    keep: async (job, bytes) => answered(await ask(device(name).page, 'callBytes', 'add_photo', { job }, { bytes: [...bytes] })).answer,
    photo: async (hash) => Buffer.from(answered(await ask(device(name).page, 'callBytes', 'photo', { hash })).body),
  };
}

/** A device with the native program. */
function native(name) {
  const file = join(root, `${name}.airwright`);
  const run = (...words) => JSON.parse(execFileSync(CLI, ['call', ...words, '--data', join(root, name)], { encoding: 'utf8', maxBuffer: 2 ** 27 }));
  return {
    name,
    call: async (command, args = null) => run(command, JSON.stringify(args)),
    file: async (id, crew_copy) => {
      run('export_job', JSON.stringify({ id, crew_copy }), '--out', file);
      return readFileSync(file);
    },
    take: async (bytes) => {
      writeFileSync(file, bytes);
      return run('open_job_file', 'null', '--in', file);
    },
    keep: async (job, bytes) => {
      writeFileSync(file, bytes);
      return run('add_photo', JSON.stringify({ job }), '--in', file);
    },
    photo: async (hash) => {
      run('photo', JSON.stringify({ hash }), '--out', file);
      return readFileSync(file);
    },
  };
}

const devices = new Map();
const device = (name) => devices.get(name);

test('four devices end a long day with the same job, every tick, every photo and every signature', { timeout: 600_000 }, async (t) => {
  const site = await serve(t, '/jobs', WEB);
  const random = numbers(SEED);
  let ada = await launchToKill(t, join(root, 'ada'));
  const pages = { ada: await open(ada.context, site.url) };
  for (const name of ['ben', 'cleo']) pages[name] = await open(await launch(t, join(root, name)), site.url);
  for (const [name, page] of Object.entries(pages)) devices.set(name, inBrowser(name, page));
  devices.set('dora', native('dora'));
  const all = [...devices.values()];

  const id = (await device('ada').call('list_jobs'))[0].id;
  const start = await device('ada').file(id, false);
  for (const name of ['ben', 'dora']) assert.equal((await device(name).take(start)).created, true);
  // one has the copy for the crew: without client and money
  assert.equal((await device('cleo').take(await device('ada').file(id, true))).created, true);
  for (const page of Object.values(pages)) await page.context().setOffline(true);

  /** key of a tick, to the last that its device was told is kept */
  const kept = new Map();
  /** what was added to lists, as `list id` */
  const made = new Set();
  /** every photo that a device was told is kept */
  const photos = new Set();
  const signed = new Map();
  const shoot = await camera(pages.ben);
  const piece = Object.keys((await device('ada').call('open_job', { id })).job.pieces)[0];
  const tick = async (d, step, done) => {
    const made = await d.call('tick', { id, step, done, skipped: false, quantity: done ? 1 : 0, what: step, who: d.name, took_s: 60 });
    kept.set(made.key, made.tick);
  };
  const photograph = async (d, remark) => {
    const kept = await d.keep(id, shoot(`${d.name} ${remark}`));
    photos.add(kept.hash);
    return kept;
  };
  const skip = async (d, step, reason) => {
    const made = await d.call('tick', { id, step, done: false, skipped: true, reason, quantity: 0, what: step, who: d.name, took_s: 0 });
    kept.set(made.key, made.tick);
  };
  const sign = async (d, name) => {
    await d.call('sign_hand_over', { id, name, remarks: `Taken by ${d.name}`, strokes: '10 10 200 300 400 100;50 60 70 80', ticked: 2, of: 3, taken_by: d.name });
    signed.set(name, d.name);
  };
  const work = async (d, round) => {
    for (let i = 0; i < 3; i++) await tick(d, STEPS[random(STEPS.length)], random(4) > 0);
    await tick(d, `own.${d.name}.${round}`, true);
    await skip(d, `skip.${d.name}.${random(2)}`, 'The venue says no');
    // taken back at once: what holds is what stood before, or nothing done
    const slip = { id, step: `slip.${d.name}`, done: true, skipped: false, quantity: 1, what: 'Slip', who: d.name, took_s: 0 };
    await d.call('tick', slip);
    await d.call('undo', { id });
    await d.call('assign_step', { id, step: STEPS[random(STEPS.length)], what: 'Who', crew: random(2) ? 'ada' : 'ben' });
    await d.call('place_step', { id, step: STEPS[random(STEPS.length)], what: 'Order', after: STEPS[random(STEPS.length)], first: false });
    if (round >= 3) {
      await tick(d, `walk.${piece}.${random(3)}`, true);
      await tick(d, `back.kit.${random(4)}`, random(3) > 0);
    }
    if (round === 3 && d.name !== 'ben') await sign(d, `Client of ${d.name}`);
    const note = `${d.name}-${round}`;
    const [before, broken] = [await photograph(d, `before ${round}`), await photograph(d, `broken ${round}`)];
    const edits = [
      { op: 'add', part: 'job', path: ['notes'], id: note, value: { text: `Round ${round}`, who: d.name } },
      { op: 'add', part: 'job', path: ['own_steps'], id: note, value: { text: `Ask the porter, ${d.name}`, phase: 'load' } },
      { op: 'add', part: 'job', path: ['photos'], id: note, value: { hash: before.hash, width_px: before.width, height_px: before.height, kind: 'before', piece, who: d.name } },
      { op: 'add', part: 'job', path: ['damage'], id: note, value: { what: `Chair of ${d.name}`, count: 1, photo: broken.hash, who: d.name } },
      { op: 'set', part: 'job', path: ['waste', 'burst'], value: random(300) },
      { op: 'set', part: 'job', path: ['venue', 'walk_m'], value: 20 + random(60) },
      { op: 'set', part: 'job', path: ['pieces', piece, 'name'], value: `Arch ${d.name} ${round}` },
    ];
    if (d.name !== 'cleo') edits.push({ op: 'set', part: 'private', path: ['prices', 'discount_pct'], value: random(20) });
    await d.call('edit_job', { id, label: 'Work', edits });
    for (const list of ['notes', 'own_steps', 'photos', 'damage']) made.add(`${list} ${note}`);
  };

  for (let round = 1; round <= ROUNDS; round++) {
    for (const d of all) await work(d, round);
    if (round === 2) {
      // killed with no warning, while it ticks without end
      await pages.ada.evaluate((id) => {
        window.told = [];
        window.shot = [];
        void (async () => {
          for (let n = 0; ; n++) {
            const made = await window.airwright.call('tick', { id, step: `loop.${n}`, done: true, skipped: false, quantity: 1, what: 'Loop', who: 'ada', took_s: 0 });
            window.told.push([made.key, made.tick]);
            // and a photo now and then: its file, its row, then the job names it
            if (n % 3 > 0) continue;
            const canvas = new OffscreenCanvas(64, 64);
            const brush = canvas.getContext('2d');
            brush.fillStyle = `rgb(${n % 256} 0 0)`;
            brush.fillRect(0, 0, 64, 64);
            const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer());
            const { answer } = await window.airwright.callBytes('add_photo', { job: id }, bytes);
            const value = { hash: answer.hash, width_px: 64, height_px: 64, kind: 'plain', who: 'ada' };
            await window.airwright.call('edit_job', { id, label: 'Photo', edits: [{ op: 'add', part: 'job', path: ['photos'], id: `loop-${n}`, value }] });
            window.shot.push([`loop-${n}`, answer.hash]);
          }
        })();
      }, id);
      await new Promise((r) => setTimeout(r, 300 + random(700)));
      const { told, shot } = await pages.ada.evaluate(() => ({ told: [...window.told], shot: [...window.shot] }));
      assert.ok(told.length > 0, 'nothing was ticked before the end');
      await ada.kill();
      for (const [key, tick] of told) kept.set(key, tick);
      for (const [key, hash] of shot) {
        made.add(`photos ${key}`);
        photos.add(hash);
      }
      ada = await launchToKill(t, join(root, 'ada'));
      pages.ada = device('ada').page = await open(ada.context, site.url);
      await pages.ada.context().setOffline(true);
    }
    // two meet, one way only: what comes back comes later, or through somebody else
    const from = all[random(all.length)];
    const to = all[random(all.length)];
    if (from !== to) await to.take(await from.file(id, to.name === 'cleo'));
  }

  // all meet, each in another order; then once more, since two had not heard of each other
  const files = new Map();
  for (const d of all) files.set(d.name, { whole: await d.file(id, false), crew: await d.file(id, true) });
  for (const [i, d] of all.entries()) {
    const others = all.filter((o) => o !== d).map((o) => o.name);
    const order = [...others.slice(i % 3), ...others.slice(0, i % 3)];
    if (i % 2) order.reverse();
    const mine = d.name === 'cleo' ? 'crew' : 'whole';
    for (const name of order) await d.take(files.get(name)[mine]);
    const again = await d.take(files.get(order[0])[mine]);
    assert.deepEqual([again.ticks, again.notes, again.photos, again.changes], [0, 0, 0, []], `${d.name}: the second time nothing is new`);
  }

  const views = await Promise.all(all.map((d) => d.call('open_job', { id })));
  const said = (view) => view.apart.map((a) => [a.what, a.values.map((v) => v.edits)]);
  const full = views[0];
  const ofCrew = views[all.findIndex((d) => d.name === 'cleo')];
  assert.equal(ofCrew.private, null);
  assert.deepEqual(said(ofCrew), said({ apart: full.apart.filter((a) => a.area !== 'price') }));
  for (const [i, view] of views.entries()) {
    assert.deepEqual(view.job, full.job, all[i].name);
    if (view === ofCrew) continue;
    assert.deepEqual(view.private, full.private, all[i].name);
    assert.deepEqual(said(view), said(full), all[i].name);
  }
  // every tick that any device was told is kept, as it was told; every note
  for (const [key, made] of kept) assert.deepEqual(full.job.ticks[key], made, key);
  for (const one of made) {
    const [list, key] = one.split(' ');
    assert.ok(full.job[list][key] && !full.job[list][key].gone, one);
  }
  // every photo that any device was told is kept is on every device, with its bytes; so is every signature at home, and that of the
  // crew on its own device
  for (const d of all) for (const hash of photos) assert.equal(sha256(await d.photo(hash)), hash, `${d.name}: ${hash}`);
  for (const view of views) {
    const there = Object.values(view.signatures).map((s) => [s.name, s.taken_by]);
    assert.deepEqual(there.sort(), [...signed].filter(([, who]) => view !== ofCrew || who === 'cleo').sort());
  }
  assert.equal(signed.size, 3);
  t.diagnostic(`${kept.size} ticks, ${photos.size} photos, ${made.size} notes, steps, pictures and damages, ${signed.size} signatures`);

  // what was set apart is settled on one device, each by the value that did not hold, and so it is on all
  assert.ok(full.apart.length >= 2, 'the day set nothing apart');
  const chosen = full.apart.map((a) => a.values.at(-1).edits[0]);
  const settled = await device('ben').call('edit_job', { id, label: 'Settled', edits: chosen });
  assert.deepEqual(settled.view.apart, []);
  const last = await device('ben').file(id, false);
  for (const name of ['dora', 'ada']) await device(name).take(last);
  // the crew gets it from the native program, as a copy without client and money
  await device('cleo').take(await device('dora').file(id, true));
  for (const d of all) {
    const view = await d.call('open_job', { id });
    assert.deepEqual(view.job, settled.view.job, d.name);
    assert.deepEqual(view.apart, [], d.name);
    assert.deepEqual(view.private, d.name === 'cleo' ? null : settled.view.private, d.name);
  }
});
