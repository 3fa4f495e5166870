// The whole app in a browser, served by its own service worker with the server stopped: a job of one's own from nothing to
// a plan, ticks that are there after a reload, papers as files. By hand: node --test tests/web/app.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, controlled, launch, mode, open, until } from './browser.mjs';
import { serve } from './serve.mjs';
import { unzip, zip } from './zip.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-app-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const address = (page, hash) => page.evaluate((h) => (location.hash = h), hash);
const jobs = (page) => page.evaluate(() => window.airwright.call('list_jobs'));

/** The app offline, with its demo job. */
async function offline(t, name, more) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), more);
  const page = await open(context, site.url);
  assert.ok(await controlled(page));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');
  await page.locator('h1').waitFor();
  return page;
}

test('a job of one’s own: created, planned, ticked, reloaded, printed; all with the server gone', async (t) => {
  const page = await offline(t, 'own', { acceptDownloads: true, viewport: { width: 820, height: 1180 } });

  await page.getByRole('button', { name: 'New job' }).first().click();
  await page.waitForFunction(() => location.hash.includes('/brief'), null, { timeout: 10000 });
  const id = await page.evaluate(() => location.hash.split('/')[2]);
  const name = page.getByLabel('Name of the job');
  await name.fill('Lantern supper');
  await name.press('Enter');
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.name === 'Lantern supper', id);

  await page.evaluate(async (job) => {
    const set = (path, value) => ({ op: 'set', part: 'job', path, value });
    await window.airwright.call('take_colour', { id: job, colour: 'sky' });
    await window.airwright.call('edit_job', { id: job, label: 'Times', edits: [set(['times', 'ready_by'], '2027-06-20T12:00'), set(['times', 'load_in'], '2027-06-20T09:00')] });
  }, id);
  await page.reload();
  await mode(page, 'owner');
  await address(page, `#/job/${id}/design`);
  await page.getByRole('button', { name: 'Add a garland' }).click();
  const balloons = page.locator('.tape, [class*=tape]').first();
  await balloons.waitFor();
  await page.waitForFunction(() => /[1-9]\d*\s*balloons/.test(document.body.innerText.replace(/\n/g, ' ')), null, { timeout: 15000 });

  // one tick by hand in Site, kept over a reload
  await address(page, `#/job/${id}/site`);
  await page.getByRole('button', { name: 'Done', exact: true }).click();
  await until(page, async (job) => Object.keys((await window.airwright.call('open_job', { id: job })).job.ticks).length === 1, id);
  await page.reload();
  await mode(page, 'owner');
  const row = (await jobs(page)).find((r) => r.id === id);
  assert.deepEqual([row.name, row.ticked], ['Lantern supper', 1]);

  // both papers as files, sound and with the lists on them
  await address(page, `#/job/${id}/papers`);
  const plan = await page.evaluate(async (job) => {
    const { job: j, private: p } = await window.airwright.call('open_job', { id: job });
    return window.airwright.compute('plan', { job: j, private: p });
  }, id);
  const texts = [];
  for (const at of [0, 1]) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: /^Save/ }).nth(at).click()]);
    const file = join(root, download.suggestedFilename());
    await download.saveAs(file);
    assert.match(download.suggestedFilename(), /^Lantern supper .+\.pdf$/);
    execFileSync('qpdf', ['--check', file]);
    texts.push(execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }));
  }
  const all = texts.join('\n');
  for (const line of plan.order) assert.ok(all.includes(line.name), line.name);
});

test('every room passes the access rules with the demo job, on a phone and a desk, light and dark', async (t) => {
  const page = await offline(t, 'axe', { viewport: { width: 390, height: 844 }, bypassCSP: true });
  const id = (await jobs(page))[0].id;
  const hashes = ['#/jobs', '#/stockroom', '#/people', '#/settings', ...['brief', 'design', 'make', 'times', 'load', 'site', 'papers'].map((r) => `#/job/${id}/${r}`)];
  await page.evaluate(AXE);
  for (const [width, height] of [[390, 844], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    for (const theme of ['paper', 'hall']) {
      await page.emulateMedia({ colorScheme: theme === 'hall' ? 'dark' : 'light' });
      for (const hash of hashes) {
        await address(page, hash);
        await page.waitForTimeout(500);
        const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
        assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${hash} at ${width} in ${theme}`);
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${hash} is ${wide} px too wide at ${width}`);
      }
    }
  }
});

test('in Site the step in hand, its caution and Done are in sight together, at every size', async (t) => {
  const page = await offline(t, 'insight');
  const id = (await jobs(page))[0].id;
  // everything before the first length is done, so that a step with a picture and a caution is in hand
  await page.evaluate(async (job) => {
    const { job: j, private: p } = await window.airwright.call('open_job', { id: job });
    const { steps } = await window.airwright.compute('plan', { job: j, private: p });
    for (const step of steps.slice(0, steps.findIndex((s) => s.id.startsWith('hang.')))) {
      await window.airwright.call('tick', { id: job, step: step.id, done: true, skipped: false, quantity: step.quantity, what: step.title, who: '', took_s: 0 });
    }
  }, id);
  await address(page, `#/job/${id}/site/site`);
  await page.reload();
  await mode(page, 'owner');
  await page.locator('#step-now').waitFor({ timeout: 30000 });
  for (const [width, height] of [[390, 844], [820, 1180], [844, 390], [1180, 820], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(300);
    const seen = await page.evaluate(() => {
      const place = (e) => e.getBoundingClientRect();
      const done = document.querySelector('main [data-key="done"]');
      const parts = { step: document.querySelector('#step-now'), caution: document.querySelector('.now .caution'), done };
      return Object.fromEntries(Object.entries(parts).map(([name, e]) => {
        const r = place(e);
        // what lies at its middle is itself, and not a bar or strip over it
        const top = document.elementFromPoint(r.left + Math.min(r.width / 2, 40), r.top + r.height / 2);
        return [name, r.top >= 0 && r.bottom <= innerHeight && e.contains(top)];
      }));
    });
    assert.deepEqual(seen, { step: true, caution: true, done: true }, `${width} x ${height}`);
  }
});

test('the job document opens in the public Automerge package, and a change made there comes back', async (t) => {
  const page = await offline(t, 'automerge');
  const id = (await jobs(page))[0].id;
  const { job, file } = await page.evaluate(async (job) => {
    const { body } = await window.airwright.callBytes('export_job', { id: job, crew_copy: false });
    return { job: (await window.airwright.call('open_job', { id: job })).job, file: [...body] };
  }, id);
  const entries = unzip(file);
  const bytes = entries.get('job.automerge');
  const Automerge = createRequire(new URL('../../ui/package.json', import.meta.url))('@automerge/automerge');
  let doc = Automerge.load(new Uint8Array(bytes));
  const plain = JSON.parse(JSON.stringify(doc));
  for (const key of ['name', 'venue', 'times', 'doors', 'crew', 'pieces', 'colours', 'items', 'rates']) assert.deepEqual(plain[key], job[key], key);
  // the package's own save may compress, which job files never do: its change is put after the document instead
  doc = Automerge.change(doc, (d) => (d.venue.walk_m = 77));
  entries.set('job.automerge', Buffer.concat([bytes, Automerge.getLastLocalChange(doc)]));
  const came = await page.evaluate(async (bytes) => (await window.airwright.callBytes('open_job_file', null, new Uint8Array(bytes))).answer, [...zip(entries)]);
  assert.deepEqual(came.changes.map((c) => [c.what, c.after.n]), [['Walk from the vehicle', 77_000]]);
  assert.equal(await page.evaluate(async (job) => (await window.airwright.call('open_job', { id: job })).job.venue.walk_m, id), 77);
});
