// Photos in the browser: one file each beside the database, there before anything names them, gone when nobody may have
// them. By hand: node --test tests/web/photos.test.mjs
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, controlled, launch, launchToKill, mode, open } from './browser.mjs';
import { serve } from './serve.mjs';
import { unzip } from './zip.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-photos-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));
const profile = (name) => join(root, name);

/** A JPEG of the browser's own making, as a list of bytes. */
const picture = (page, shade, width = 320, height = 240) =>
  page.evaluate(
    async ([fill, w, h]) => {
      const canvas = new OffscreenCanvas(w, h);
      const brush = canvas.getContext('2d');
      brush.fillStyle = fill;
      brush.fillRect(0, 0, w, h);
      return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
    },
    [shade, width, height],
  );

const demo = async (page) => {
  for (let i = 0; i < 100; i++) {
    const rows = await call(page, 'list_jobs');
    if (rows.length > 0) return rows[0].id;
    await page.waitForTimeout(100);
  }
  assert.fail('no demo job within ten seconds');
};
const add = (page, job, bytes) => ask(page, 'callBytes', 'add_photo', { job }, { bytes });
const shown = (page, hash) => ask(page, 'callBytes', 'photo', { hash });
const name = async (page, id, hash) => {
  const { fault } = await call(page, 'edit_job', { id, label: 'Photo', edits: [{ op: 'set', part: 'job', path: ['venue', 'photo'], value: hash }] });
  assert.equal(fault, undefined);
};
const files = (page) =>
  page.evaluate(async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('photos', { create: true });
    const names = [];
    for await (const key of folder.keys()) names.push(key);
    return names.sort();
  });
const sha256 = (bytes) => createHash('sha256').update(Buffer.from(bytes)).digest('hex');

test('added offline, there after a reload, and with the job on another device', async (t) => {
  const site = await serve(t, '/app', WEB);
  const page = await open(await launch(t, profile('here')), site.url);
  const there = await open(await launch(t, profile('there')), site.url);
  assert.ok(await controlled(page));
  assert.ok(await controlled(there));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');

  const id = await demo(page);
  const bytes = await picture(page, '#a07860');
  const { answer: added } = await add(page, id, bytes);
  assert.deepEqual(added, { hash: sha256(bytes), width: 320, height: 240, bytes: bytes.length });
  assert.deepEqual(await files(page), [`${added.hash}.jpg`]);
  await name(page, id, added.hash);

  await page.reload();
  await mode(page, 'owner');
  assert.deepEqual(await shown(page, added.hash), { answer: { mime: 'image/jpeg' }, body: bytes });

  const { body: file } = await ask(page, 'callBytes', 'export_job', { id, crew_copy: true });
  assert.deepEqual([...unzip(file).get(`photos/${added.hash}.jpg`)], bytes);
  const came = await ask(there, 'callBytes', 'open_job_file', null, { bytes: file });
  assert.equal(came.answer?.photos, 1, JSON.stringify(came.fault));
  await there.reload();
  await mode(there, 'owner');
  assert.deepEqual((await shown(there, added.hash)).body, bytes);

  // several at once, each answered with its own, and everything asked between them as well
  const many = await Promise.all(['#102030', '#405060', '#708090'].map((shade) => picture(page, shade)));
  const [answers, rows] = await Promise.all([Promise.all(many.map((one) => add(page, id, one))), call(page, 'list_jobs')]);
  assert.deepEqual(answers.map((a) => a.answer.hash), many.map(sha256));
  assert.ok(rows.length > 0);
  assert.equal((await files(page)).length, 4);
});

test('what is no picture is refused and leaves no file; a lost or damaged one is said to be so', async (t) => {
  const site = await serve(t, '/app', WEB);
  const page = await open(await launch(t, profile('refused')), site.url);
  const id = await demo(page);
  const bytes = await picture(page, '#335577');
  assert.equal((await add(page, id, [...Buffer.from('GIF89a and more')])).fault.code, 'not_a_photo');
  assert.equal((await add(page, id, bytes.slice(0, 20))).fault.code, 'not_a_photo');
  assert.equal((await add(page, 'nobody', bytes)).fault.code, 'no_such_job');
  assert.deepEqual(await files(page), []);

  const { answer } = await add(page, id, bytes);
  await name(page, id, answer.hash);
  await page.evaluate(async (file) => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('photos');
    const out = await (await folder.getFileHandle(file)).createWritable();
    await out.write('cut short');
    await out.close();
  }, `${answer.hash}.jpg`);
  assert.equal((await shown(page, answer.hash)).fault.code, 'wrong_photo');
  // taken once more, it is whole again
  await add(page, id, bytes);
  assert.deepEqual((await shown(page, answer.hash)).body, bytes);

  // a copy of the job keeps the photo; when the client of both is erased, the file goes
  const copy = await call(page, 'copy_job', { id, name: 'Again' });
  await call(page, 'erase_client', { id });
  assert.deepEqual((await shown(page, answer.hash)).body, bytes);
  await call(page, 'erase_client', { id: copy.id });
  assert.equal((await shown(page, answer.hash)).fault.code, 'photo_missing');
  assert.deepEqual(await files(page), []);
  assert.deepEqual(page.said, []);
});

test('with no room for a photo that is said, and the jobs go on', async (t) => {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, profile('full'));
  await context.route('**/store.worker-*.js', async (route) => {
    const response = await route.fetch();
    // only files of photos: the database writes through handles that it opened before
    const full = `const sound = FileSystemFileHandle.prototype.createSyncAccessHandle;
      FileSystemFileHandle.prototype.createSyncAccessHandle = async function () {
        const handle = await sound.call(this);
        if (this.name.endsWith('.jpg')) handle.write = () => { throw new DOMException('full', 'QuotaExceededError'); };
        return handle;
      };`;
    await route.fulfill({ response, body: `${full}\n${await response.text()}` });
  });
  const page = await open(context, site.url);
  const id = await demo(page);
  const bytes = await picture(page, '#884422');
  assert.equal((await add(page, id, bytes)).fault.code, 'no_room');
  assert.equal((await shown(page, sha256(bytes))).fault.code, 'photo_missing');
  assert.equal((await call(page, 'open_job', { id })).id, id);
});

test('kill -9: a photo that was acknowledged is there whole', async (t) => {
  const site = await serve(t, '/app', WEB);
  let b = await launchToKill(t, profile('kill'));
  let page = await open(b.context, site.url);
  const again = async () => {
    await b.kill();
    b = await launchToKill(t, profile('kill'));
    page = await open(b.context, site.url);
  };
  const id = await demo(page);
  const bytes = await picture(page, '#123456', 1600, 1200);
  const { answer } = await add(page, id, bytes);
  await again(); // straight after the answer
  assert.deepEqual((await shown(page, answer.hash)).body, bytes);

  for (let k = 0; k < 3; k++) {
    // at some moment while photos come one after the other
    await page.evaluate((job) => {
      window.answered = [];
      void (async () => {
        for (let n = 0; ; n++) {
          const canvas = new OffscreenCanvas(900, 700);
          const brush = canvas.getContext('2d');
          for (let i = 0; i < 400; i++) {
            brush.fillStyle = `rgb(${Math.random() * 255} ${Math.random() * 255} ${n % 255})`;
            brush.fillRect(Math.random() * 900, Math.random() * 700, 90, 70);
          }
          const made = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer());
          window.answered.push((await window.airwright.callBytes('add_photo', { job }, made)).answer.hash);
        }
      })();
    }, id);
    await new Promise((r) => setTimeout(r, 700 + 211 * k));
    const answered = await page.evaluate(() => window.answered);
    assert.ok(answered.length > 0, 'nothing was kept before the end');
    await again();
    // the store compares its bytes with its hash
    const lost = await page.evaluate(async (hashes) => {
      const there = await Promise.allSettled(hashes.map((hash) => window.airwright.callBytes('photo', { hash })));
      return there.filter((one) => one.status === 'rejected' || one.value.body.length === 0).length;
    }, answered);
    assert.equal(lost, 0, `of ${answered.length} that were acknowledged`);
    t.diagnostic(`${answered.length} photos were acknowledged before the end`);
  }
});
