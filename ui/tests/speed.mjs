// How fast the built web app is, and how large: node ui/tests/speed.mjs. Prints a table; nothing here can fail.
// Times are medians of several runs by the page's own clock, from the question to the answer, worker and messages included.
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { FOLDER, start } from './page.mjs';

const RUNS = 9;
const profile = mkdtempSync(join(tmpdir(), 'airwright-speed-'));
const row = (what, figure) => console.log(`${what.padEnd(70)} ${figure}`);

/** The median of several runs in the page, ms: `run` is asked for once more than is counted. */
async function took(page, run, arg, runs = RUNS) {
  const times = [];
  for (let i = 0; i <= runs; i++) times.push(await page.evaluate(run, { ...arg, i }));
  return times.slice(1).sort((a, b) => a - b)[Math.floor(runs / 2)];
}

const files = readdirSync(FOLDER, { recursive: true })
  .map((name) => join(FOLDER, name))
  .filter((path) => statSync(path).isFile())
  .map((path) => readFileSync(path));
const total = (pack) => (files.reduce((sum, bytes) => sum + pack(bytes).length, 0) / 1e6).toFixed(2);
row('download, all of it', `${total((b) => brotliCompressSync(b))} MB as brotli, ${total((b) => gzipSync(b, { level: 9 }))} MB as gzip`);

const site = await start();
const context = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.AIRWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});
const page = await context.newPage();
await page.goto(site.base);
await page.waitForFunction(() => window.airwright?.state.mode === 'owner', null, { timeout: 30000 });
const { id, job } = await page.evaluate(async () => {
  const view = await window.airwright.call('create_demo', { today: '2027-03-01' });
  return { id: view.id, job: { job: view.job, private: view.private } };
});

const plan = async ({ question, depth, i }) => {
  // a stroke more of bubbles each time: an answer that was kept would be no measure
  question.job.rates.soft_pm += i;
  const since = performance.now();
  await window.airwright.compute('plan', { ...question, depth });
  return performance.now() - since;
};
for (const depth of ['instant', 'preview', 'final']) {
  row(`plan of the demo job, ${depth}`, `${(await took(page, plan, { question: job, depth })).toFixed(0)} ms`);
}
// the load is remembered by its question: a crate of another length each time has it found anew
const loaded = async ({ question, more, i }) => {
  const crate = { name: 'Crate', kind: 'case', count: more, length_mm: 400 + i, width_mm: 300, height_mm: 250, mass_g: 4000 };
  const job = { ...question.job, kit: { ...question.job.kit, crate: { ...Object.values(question.job.kit)[0], ...crate } } };
  const since = performance.now();
  const plan = await window.airwright.compute('plan', { job, private: question.private, depth: 'final' });
  const took = performance.now() - since;
  window.parcels = plan.load.parcels.length;
  window.trips = plan.load.runs.length;
  return took;
};
for (const more of [1, 41]) {
  const ms = await took(page, loaded, { question: job, more });
  const [parcels, trips] = await page.evaluate(() => [window.parcels, window.trips]);
  row(`the same with its load found anew, ${parcels} bags and cases in ${trips} ${trips === 1 ? 'trip' : 'trips'}`, `${ms.toFixed(0)} ms`);
}
const picture = async ({ question, i }) => {
  const since = performance.now();
  await window.airwright.computeBytes('picture', { job: question.job, depth: 'instant', width: 1600, height: 1000, yaw_deg: i, pitch_deg: 10, transparent: false });
  return performance.now() - since;
};
row('picture of 1600 x 1000, the whole demo job', `${(await took(page, picture, { question: job }, 5)).toFixed(0)} ms`);
const paper = async ({ question, i }) => {
  const own = { name: 'Speed', address: '', phone: '', email: '', tax_number: '', zone: 'Europe/London' };
  const since = performance.now();
  const made = await window.airwright.computeBytes('paper', { ...question, kind: 'crew_pack', own, size: 'a4', show: true, language: 'en-GB', made_ms: 1.8e12 + i, us_units: false, twelve_hours: false });
  window.pages = made.answer.pages;
  return performance.now() - since;
};
const crew = await took(page, paper, { question: job }, 5);
row(`crew pack for the screen and as PDF, ${await page.evaluate(() => window.pages)} pages, its plan with it`, `${crew.toFixed(0)} ms`);
const tick = async ({ job, i }) => {
  const since = performance.now();
  await window.airwright.call('tick', { id: job, step: 'speed', done: i % 2 === 0, skipped: false, quantity: 1, what: 'Speed', who: '', took_s: 0 });
  return performance.now() - since;
};
row('a tick, acknowledged on disk', `${(await took(page, tick, { job: id }, 101)).toFixed(1)} ms`);

await page.evaluate(() => navigator.serviceWorker.ready);
await page.waitForTimeout(1500);
await context.setOffline(true);
const starts = [];
for (let i = 0; i < 5; i++) {
  await page.goto(`${site.base}#/job/${id}/site`);
  await page.reload({ waitUntil: 'commit' });
  await page.getByRole('button', { name: /done/i }).first().waitFor();
  starts.push(await page.evaluate(() => performance.now()));
}
row('start to the step in hand, second visit, no network', `${starts.sort((a, b) => a - b)[2].toFixed(0)} ms`);
await context.close();
await site.close();
rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
