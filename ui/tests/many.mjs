// How the built web app bears many jobs: node ui/tests/many.mjs [JOBS]. Prints a table; nothing here can fail. 5,000 if no number is
// given: making them takes minutes.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { start } from './page.mjs';

const JOBS = Number(process.argv[2] ?? 5000);
const profile = mkdtempSync(join(tmpdir(), 'airwright-many-'));
const row = (what, figure) => console.log(`${what.padEnd(70)} ${figure}`);
const middle = (times) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)].toFixed(0);

const site = await start();
const context = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.AIRWRIGHT_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--enable-precise-memory-info'],
});
const page = await context.newPage();
const ready = () => page.waitForFunction(() => window.airwright?.state.mode === 'owner', null, { timeout: 30000 });
await page.goto(site.base);
await ready();
const made = await page.evaluate(async (jobs) => {
  const since = performance.now();
  for (let i = 0; i < jobs; i++) await window.airwright.call('create_job', { name: `Job ${i}, ${['mill', 'quay', 'barn', 'hall'][i % 4]}` });
  return (performance.now() - since) / jobs;
}, JOBS);
row(`a job made, of ${JOBS}`, `${made.toFixed(0)} ms`);
const listed = [];
for (let i = 0; i < 9; i++) {
  listed.push(await page.evaluate(async () => {
    const since = performance.now();
    await window.airwright.call('list_jobs');
    return performance.now() - since;
  }));
}
row('the list asked for', `${middle(listed)} ms`);
const opened = [];
for (let i = 0; i < 3; i++) {
  await page.goto(`${site.base}#/jobs`);
  await page.reload({ waitUntil: 'commit' });
  await page.locator('main li').first().waitFor();
  opened.push(await page.evaluate(() => performance.now()));
}
row('start to the list on the screen', `${middle(opened)} ms`);
await ready();
const searched = [];
for (const words of ['quay', 'job 12', 'barn', `job ${JOBS - 1}`, 'mill']) {
  searched.push(await page.evaluate(async (text) => {
    const field = document.querySelector('main input');
    const since = performance.now();
    field.value = text;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    return performance.now() - since;
  }, words));
}
row('words searched, until they are drawn', `${middle(searched)} ms`);
row('memory of the page, its workers left out', `${await page.evaluate(() => (performance.memory.usedJSHeapSize / 1e6).toFixed(0))} MB`);
await context.close();
await site.close();
rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
