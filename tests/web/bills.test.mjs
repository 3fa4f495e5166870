// Money as a user meets it: a price on the telephone becomes a job, a bill gets its number and stays, papers are saved.
// By hand: node --test tests/web/bills.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { launch, open } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-bills-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const address = (page, hash) => page.evaluate((h) => (location.hash = h), hash);

/** The app with its demo job. */
async function app(t, name) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { acceptDownloads: true, viewport: { width: 1280, height: 1000 } });
  const page = await open(context, site.url);
  const id = await page.evaluate(async () => {
    await window.airwright.call('first_start', { today: '2027-05-26' });
    return (await window.airwright.call('list_jobs'))[0].id;
  });
  return { page, id };
}

/** What a press saves. */
async function saved(page, press) {
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 30000 }), press()]);
  return { name: download.suggestedFilename(), body: readFileSync(await download.path()) };
}

test('five answers on the telephone are a price, and a job with one tap', async (t) => {
  const { page } = await app(t, 'quick');
  await address(page, '#/jobs');
  await page.getByRole('link', { name: 'Quick price' }).click();
  await page.getByText('with tax').waitFor();
  await page.getByLabel('What').first().selectOption({ label: 'Columns' });
  await page.getByText('Say between').waitFor();
  const name = page.getByLabel('Client or occasion');
  await name.fill('Lantern supper');
  await name.press('Enter');
  await page.getByRole('button', { name: 'Make it a job' }).click();
  await page.waitForFunction(() => location.hash.endsWith('/brief'), null, { timeout: 15000 });
  const made = await page.evaluate(async () => (await window.airwright.call('open_job', { id: location.hash.split('/')[2] })).job);
  assert.equal(made.name, 'Lantern supper');
  assert.deepEqual(Object.values(made.pieces).map((p) => [p.kind, p.classic.count]), [['classic', 2]]);
});

test('an invoice gets its number once a device is named, and is there after a reload', async (t) => {
  const { page, id } = await app(t, 'bills');
  await address(page, `#/job/${id}/papers/bills`);
  await page.getByRole('button', { name: 'This device gives out numbers' }).click();
  await page.getByRole('button', { name: 'Invoice', exact: true }).click();
  await page.getByRole('button', { name: 'Issue as 0001' }).click();
  await page.getByRole('button', { name: 'Issue it' }).click();
  const heading = page.getByRole('heading', { name: '0001' });
  await heading.waitFor();
  await page.reload();
  await heading.waitFor({ timeout: 30000 });
  const pdf = await saved(page, () => page.getByRole('button', { name: 'Save as PDF 0001' }).click());
  assert.equal(pdf.body.subarray(0, 5).toString('latin1'), '%PDF-');
  assert.match(pdf.name, /invoice 0001\.pdf$/);
  const xml = await saved(page, () => page.getByRole('button', { name: 'Save for programs 0001' }).click());
  const text = xml.body.toString('utf8');
  const bill = JSON.parse((await page.evaluate(async (job) => Object.values((await window.airwright.call('open_job', { id: job })).private.bills)[0].content, id)));
  assert.ok(text.includes(`<cbc:PayableAmount currencyID="EUR">${(bill.gross_cents / 100).toFixed(2)}</cbc:PayableAmount>`));
  // a part of it is taken back by a credit note with the next number, and then the rest
  await page.getByRole('button', { name: 'Take back 0001' }).click();
  await page.getByRole('radio', { name: 'A part', exact: true }).click();
  const back = page.getByRole('spinbutton', { name: 'Work at the venue', exact: true });
  await back.fill('10');
  await back.press('Tab');
  await page.getByRole('button', { name: 'Issue as 0002' }).click();
  await page.getByRole('button', { name: 'Issue it' }).click();
  await page.getByRole('heading', { name: '0002' }).waitFor();
  await page.getByText('a part taken back').waitFor();
  await page.getByRole('button', { name: 'Take back 0001' }).click();
  await page.getByText('The rest of invoice 0001').first().waitFor();
  await page.getByRole('button', { name: 'Issue as 0003' }).click();
  await page.getByRole('button', { name: 'Issue it' }).click();
  await page.getByRole('heading', { name: '0003' }).waitFor();
  await page.getByText(', taken back').waitFor();
});

test('a draft is kept, found again after a reload, and gets its number', async (t) => {
  const { page, id } = await app(t, 'drafts');
  await address(page, `#/job/${id}/papers/bills`);
  await page.getByRole('button', { name: 'Quote', exact: true }).click();
  await page.getByRole('button', { name: 'Keep as a draft' }).click();
  await page.getByRole('heading', { name: 'Drafts' }).waitFor();
  // to keep it changes the job, and what is looked at follows it: it once was put away without a word
  await page.getByRole('button', { name: 'Keep it as it is now' }).waitFor();
  await page.reload();
  await page.getByRole('button', { name: 'Look at Quote, draft' }).click({ timeout: 30000 });
  await page.getByRole('button', { name: 'Keep it as it is now' }).waitFor();
  await page.getByRole('button', { name: 'This device gives out numbers' }).click();
  await page.getByRole('button', { name: 'Issue as Q0001' }).click();
  await page.getByRole('button', { name: 'Issue it' }).click();
  await page.getByRole('heading', { name: 'Q0001' }).waitFor();
  await page.getByRole('heading', { name: 'Drafts' }).waitFor({ state: 'detached' });
});

test('labels, shopping list and calendar files are saved', async (t) => {
  const { page, id } = await app(t, 'papers');
  await address(page, `#/job/${id}/papers`);
  for (const [label, start] of [['Save Labels', '%PDF-'], ['Save Shopping list', '%PDF-'], ['Calendar for all', 'BEGIN:VCALENDAR\r\n']]) {
    const file = await saved(page, () => page.getByRole('button', { name: label }).click());
    assert.equal(file.body.subarray(0, start.length).toString('latin1'), start, label);
  }
});
