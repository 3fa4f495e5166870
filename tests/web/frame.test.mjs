// The frame around the rooms and the list of jobs when there is much in them.
// By hand: node --test tests/web/frame.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { call, launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-frame-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

async function begun(t, name, viewport) {
  const site = await serve(t, '/app', WEB, 'csp');
  const context = await launch(t, join(root, name), { viewport });
  const page = await open(context, site.url);
  page.setDefaultTimeout(20000);
  return { page, site };
}

test('the tape of a job of millions is seen whole on a tablet, its price not cut', async (t) => {
  const { page, site } = await begun(t, 'tape', { width: 820, height: 1180 });
  const { id } = await call(page, 'create_demo', { today: '2027-06-01' });
  const big = [{ op: 'add', part: 'private', path: ['charges'], id: 'big', value: { label: 'Ballroom', cents: 123456789 } }];
  await call(page, 'edit_job', { id, label: 'A charge', edits: big });
  await page.goto(`${site.url}#/job/${id}/design`);
  await page.reload();
  const price = page.getByRole('region', { name: 'Key figures' }).locator('li').last();
  await price.filter({ hasText: /1,\d{3},\d{3}/ }).waitFor({ timeout: 90000 });
  await until(page, () => {
    const [scroll, last, finds] = ['.tape .scroll', '.tape li:last-child', '.tape .finds'].map((s) => document.querySelector(s));
    return last.getBoundingClientRect().right <= finds.getBoundingClientRect().left + 0.5 && scroll.scrollWidth <= scroll.clientWidth;
  });
  assert.deepEqual(page.said, []);
});

// once the volume was cut in two there and the price never seen
test('on a phone the price of the demo job is in sight, no figure cut', async (t) => {
  const { page, site } = await begun(t, 'phone', { width: 390, height: 844 });
  const { id } = await call(page, 'create_demo', { today: '2027-06-01' });
  await page.goto(`${site.url}#/job/${id}/times`);
  await page.reload();
  const figures = page.getByRole('region', { name: 'Key figures' });
  await figures.getByText('price').waitFor({ timeout: 60000 });
  await until(page, () => {
    const [scroll, last, finds] = ['.tape .scroll', '.tape li:last-child', '.tape .finds'].map((s) => document.querySelector(s));
    return last.getBoundingClientRect().right <= finds.getBoundingClientRect().left + 0.5 && scroll.scrollWidth <= scroll.clientWidth;
  });
  assert.match(await figures.locator('li').last().innerText(), /price/);
});

test('a new job made by keys has the focus on its heading', async (t) => {
  const { page } = await begun(t, 'keys', { width: 1440, height: 900 });
  await page.getByRole('button', { name: 'New job' }).focus();
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => location.hash.includes('/brief') && document.querySelector('main input'));
  await until(page, () => document.activeElement?.id === 'place-title');
  // and the next key goes into the room
  await page.keyboard.press('Tab');
  await until(page, () => document.querySelector('main').contains(document.activeElement));
  assert.deepEqual(page.said, []);
});

test('of many jobs the first are drawn, more when they are asked for, with the focus on the first that came; search finds all', async (t) => {
  const { page, site } = await begun(t, 'list', { width: 1440, height: 900 });
  await page.goto(`${site.url}#/settings`);
  await page.evaluate(async () => {
    for (let n = 1; n <= 150; n++) await window.airwright.call('create_job', { name: `Party ${String(n).padStart(3, '0')}` });
  });
  await page.goto(`${site.url}#/jobs`);
  const rows = page.locator('main li').filter({ hasText: 'Party' });
  await until(page, () => [...document.querySelectorAll('main li')].filter((li) => li.textContent.includes('Party')).length === 60);
  const more = page.getByRole('button', { name: 'Show 60 more of 90' });
  await more.focus();
  await page.keyboard.press('Enter');
  await until(page, () => [...document.querySelectorAll('main li a')].filter((a) => a.textContent.includes('Party')).indexOf(document.activeElement) === 60);
  assert.equal(await rows.count(), 120);
  await page.getByRole('button', { name: 'Show 30 more of 30' }).click();
  await until(page, () => document.querySelectorAll('main li').length >= 150);
  assert.equal(await page.getByRole('button', { name: /^Show \d+ more/ }).count(), 0);
  await page.getByRole('searchbox').fill('party 149');
  await until(page, () => [...document.querySelectorAll('main li a')].filter((a) => a.textContent.includes('Party')).length === 1);
  assert.deepEqual(page.said, []);
});
