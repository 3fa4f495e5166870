// Job files as a user meets them: chosen, dropped, opened by the system; looked into, asked about, told; and what two
// devices set differently. By hand: node --test tests/web/takein.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, ask, call, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-takein-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const set = (path, value) => ({ op: 'set', part: 'job', path, value });
const edit = (page, id, ...edits) => call(page, 'edit_job', { id, label: 'Edit', edits });
const exported = async (page, id) => (await ask(page, 'callBytes', 'export_job', { id, crew_copy: false })).body;
const take = (page, bytes) => ask(page, 'callBytes', 'open_job_file', null, { bytes });
const sheet = (page, text) => page.locator('dialog[open]', { hasText: text });
const press = (where, name) => where.getByRole('button', { name, exact: true }).click();

/** What the system does when it opens files with the installed app. */
const launchFiles = (page, name, bytes) =>
  page.evaluate(([name, bytes]) => window.launched({ files: [{ getFile: async () => new File([new Uint8Array(bytes)], name) }] }), [name, bytes]);

const drop = (page, name, bytes) =>
  page.evaluate(
    ([name, bytes]) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([new Uint8Array(bytes)], name));
      const fire = (kind) => document.body.dispatchEvent(new DragEvent(kind, { dataTransfer, bubbles: true, cancelable: true }));
      fire('dragenter');
      window.dropped = () => fire('drop');
    },
    [name, bytes],
  );

test('files come in by every way, ask before they change a plan, and what is set apart stays until it is settled', async (t) => {
  const site = await serve(t, '/jobs', WEB);
  const here = await launch(t, join(root, 'here'));
  // the browser has a launch queue, but no test can make the system use it
  await here.addInitScript(() => Object.defineProperty(window, 'launchQueue', { value: { setConsumer: (f) => (window.launched = f) } }));
  const page = await open(here, site.url);
  const there = await open(await launch(t, join(root, 'there')), site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  assert.ok((await take(there, await exported(page, id))).answer);

  // ticks and notes alone: no question
  await call(there, 'tick', { id, step: 'load.van', done: true, skipped: false, quantity: 1, what: 'Load the van', who: 'Ben', took_s: 0 });
  await edit(there, id, { op: 'add', part: 'job', path: ['notes'], id: 'n1', value: { text: 'Key is under the pot' } });
  const first = await exported(there, id);
  await launchFiles(page, 'Halloran and Reyes.airwright', first);
  await sheet(page, '1 tick and 1 note').waitFor();
  await press(sheet(page, '1 tick and 1 note'), 'Close');

  // the second time nothing is new; dropped this time, over any place
  await drop(page, 'Halloran and Reyes.airwright', first);
  await page.getByText('Drop the job file here').waitFor();
  await page.evaluate(() => window.dropped());
  await sheet(page, 'Nothing new was in it').waitFor();
  await press(sheet(page, 'Nothing new was in it'), 'Close');
  assert.equal(await page.getByText('Drop the job file here').count(), 0);
  await drop(page, 'Plan.pdf', [1, 2, 3]);
  await page.evaluate(() => window.dropped());
  await page.getByText('Plan.pdf is not a job file.').waitFor();

  // a change of the plan is asked about, and nothing is kept until it is answered
  const before = (await call(page, 'open_job', { id })).job;
  await edit(page, id, set(['venue', 'ceiling_mm'], 3100));
  await edit(there, id, set(['venue', 'ceiling_mm'], 2900), set(['times', 'ready_by'], before.times.ready_by.replace(/T.*/, 'T13:15')));
  const second = await exported(there, id);
  const choose = async () => {
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.getByRole('button', { name: 'Open a job file' }).click()]);
    await chooser.setFiles({ name: 'two.airwright', mimeType: 'application/x-airwright', buffer: Buffer.from(second) });
  };
  await choose();
  const asking = sheet(page, 'this file changes the plan');
  await asking.waitFor();
  // the figures of the tape before and after
  await asking.getByRole('row', { name: /start by/ }).waitFor({ timeout: 60_000 });
  const [now, then] = await asking.getByRole('row', { name: /start by/ }).getByRole('cell').allTextContents();
  assert.notEqual(now, then);
  await asking.getByText(`${before.times.ready_by.slice(11)} → 13:15`).waitFor();
  await press(asking, 'Not now');
  assert.equal((await call(page, 'open_job', { id })).job.times.ready_by, before.times.ready_by);
  await choose();
  await press(asking, 'Merge');
  await sheet(page, '1 change of time').waitFor();
  assert.match((await call(page, 'open_job', { id })).job.times.ready_by, /T13:15$/);

  // both values stand side by side, in the list and in the job, until one is chosen
  const told = sheet(page, 'Set differently on two devices');
  await told.getByText('Ceiling height').first().waitFor();
  await told.getByText(/on Ben’s device/).waitFor();
  await press(told, 'Close');
  await page.getByText('1 to settle').waitFor();
  await page.goto(`${site.url}#/job/${id}/times`);
  await press(page, 'Choose');
  await page.getByRole('button', { name: 'Keep 3.1 m for Ceiling height' }).click();
  await page.getByText('1 thing was set differently on two devices').waitFor({ state: 'detached' });
  assert.equal((await call(page, 'open_job', { id })).job.venue.ceiling_mm, 3100);
  assert.equal((await take(there, await exported(page, id))).answer.changes.length > 0, true);
  const settled = await call(there, 'open_job', { id });
  assert.deepEqual([settled.job.venue.ceiling_mm, settled.apart], [3100, []]);

  // one that is cut short is refused, and says so
  await launchFiles(page, 'cut.airwright', second.slice(0, second.length - 700));
  await sheet(page, 'This job file is not whole').waitFor();
  assert.deepEqual(page.said, []);
});

test('while a file is read there is nothing to close the sheet with, and it goes by itself', async (t) => {
  const site = await serve(t, '/jobs', WEB);
  const context = await launch(t, join(root, 'reading'), { bypassCSP: true });
  await context.addInitScript(() => Object.defineProperty(window, 'launchQueue', { value: { setConsumer: (f) => (window.launched = f) } }));
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  const bytes = await exported(page, id);
  await page.evaluate(() => {
    const real = window.airwright.callBytes;
    const held = new Promise((go) => (window.go = go));
    window.airwright.callBytes = async (name, ...more) => {
      if (name === 'look_into_job_file') await held;
      return real(name, ...more);
    };
  });
  await launchFiles(page, 'slow.airwright', bytes);
  const reading = sheet(page, 'Looking into slow.airwright');
  await reading.waitFor();
  assert.equal(await reading.getByRole('button').count(), 0);
  // Escape twice: a browser gives in to the second one
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.mouse.click(4, 4);
  await page.waitForTimeout(300);
  assert.ok(await reading.isVisible());
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => window.axe.run(document.querySelector('dialog[open]'), { resultTypes: ['violations'] }));
  assert.deepEqual(violations.map((v) => v.id), []);
  await page.evaluate(() => window.go());
  await sheet(page, 'Nothing new was in it').waitFor();
  assert.equal(await reading.count(), 0);
  await page.keyboard.press('Escape');
  await page.waitForFunction(() => !document.querySelector('dialog[open]'));
});

test('a job is shared where files can be handed on, and saved everywhere', async (t) => {
  const site = await serve(t, '/jobs', WEB);
  const context = await launch(t, join(root, 'share'));
  await context.addInitScript(() => {
    navigator.canShare = () => true;
    navigator.share = async ({ files }) => {
      window.shared = { name: files[0].name, type: files[0].type, size: files[0].size };
      if (window.refuse) throw new DOMException('no', window.refuse);
    };
  });
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  await page.goto(`${site.url}#/job/${id}/papers`);
  const share = page.getByRole('button', { name: 'Share: The whole job' });
  await share.click();
  await page.getByText('The whole job saved').waitFor();
  const shared = await page.evaluate(() => window.shared);
  assert.deepEqual([shared.name, shared.type], ['Halloran and Reyes.airwright', 'application/x-airwright']);
  assert.ok(shared.size > 10_000);
  const [saved] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save: A copy for the crew' }).click()]);
  assert.equal(saved.suggestedFilename(), 'Halloran and Reyes crew.airwright');
  // a browser that hands on no files of this kind after all: it is saved instead; one who changes his mind gets nothing
  await page.evaluate(() => (window.refuse = 'NotAllowedError'));
  const [instead] = await Promise.all([page.waitForEvent('download'), share.click()]);
  assert.equal(instead.suggestedFilename(), 'Halloran and Reyes.airwright');
  let downloads = 0;
  page.on('download', () => downloads++);
  await page.evaluate(() => {
    window.refuse = 'AbortError';
    delete window.shared;
  });
  await share.click();
  await page.waitForFunction(() => window.shared);
  await page.waitForTimeout(300);
  assert.equal(downloads, 0);
});
