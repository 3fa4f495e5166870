// The same job gives the same plan and the same papers natively and in the browser, byte by byte. The native side is
// the terminal program. By hand: node --test tests/web/same.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { ask, call, controlled, launch, mode, open } from './browser.mjs';
import { serve } from './serve.mjs';

const built = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const WEB = process.env.AIRWRIGHT_WEB ?? built('ui/dist/web');
const CLI = process.env.AIRWRIGHT_CLI ?? built('target/debug/airwright-cli');

const root = mkdtempSync(join(tmpdir(), 'airwright-same-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The terminal program's answer, with the bytes that came with it. */
function natively(name, args) {
  const out = join(root, 'bytes');
  const text = execFileSync(CLI, ['call', name, '-', '--out', out], { input: JSON.stringify(args), encoding: 'utf8', maxBuffer: 2 ** 28 });
  return { answer: JSON.parse(text), body: readFileSync(out) };
}

test('the demo job: one plan, one crew pack, one client summary, one order list, one invoice', async (t) => {
  const site = await serve(t, '/same', WEB);
  const page = await open(await launch(t, join(root, 'profile')), site.url);
  // papers are made with no network too
  assert.ok(await controlled(page));
  await site.stop();
  await page.reload();
  await mode(page, 'owner');
  const { job, private: own } = await call(page, 'create_demo', { today: '2027-03-01' });

  const question = { job, private: own };
  const plan = execFileSync(CLI, ['call', 'plan', '-'], { input: JSON.stringify(question), encoding: 'utf8', maxBuffer: 2 ** 28 });
  const here = await ask(page, 'compute', 'plan', question);
  assert.ok(here.figures, JSON.stringify(here.fault));
  assert.deepEqual(here, JSON.parse(plan));

  for (const kind of ['crew_pack', 'client_summary', 'order_csv']) {
    const paper = {
      ...question,
      kind,
      own: { name: 'Airwright test', address: '', phone: '', email: '', tax_number: '', zone: 'Europe/London' },
      size: 'a4',
      language: 'en-GB',
      made_ms: 1_800_000_000_000,
      us_units: false,
      twelve_hours: false,
    };
    const [web, native] = [await ask(page, 'computeBytes', 'paper', paper), natively('paper', paper)];
    assert.ok(web.answer, JSON.stringify(web.fault));
    assert.deepEqual(web.answer, native.answer, kind);
    assert.ok(Buffer.from(web.body).equals(native.body), `${kind} differs between wasm and native`);
    if (kind !== 'order_csv') assert.equal(native.body.subarray(0, 5).toString(), '%PDF-');
    console.log(`${kind}: ${web.answer.pages} pages, ${native.body.length} bytes`);
  }
  // an invoice with its structured copy inside, and the copy
  const own_ = { name: 'Airwright test', address: '3 Chandler Yard', country: 'GB', zone: 'Europe/London' };
  const asked = { ...question, own: own_, kind: 'invoice', instalment: '', of: '', part: [], day: '2027-06-14' };
  const { bill } = await ask(page, 'compute', 'bill', asked);
  const paper = { bill: { ...bill, number: '2027-0041' }, size: 'a4', language: 'en-GB', made_ms: 1_800_000_000_000 };
  const [inWeb, inNative] = [await ask(page, 'computeBytes', 'bill_paper', paper), natively('bill_paper', paper)];
  assert.ok(Buffer.from(inWeb.body).equals(inNative.body), 'the invoice differs between wasm and native');
  assert.ok(inNative.body.includes('/AFRelationship/Alternative'));
  const [xmlInWeb, xmlInNative] = [await ask(page, 'computeBytes', 'bill_xml', paper), natively('bill_xml', paper)];
  assert.ok(Buffer.from(xmlInWeb.body).equals(xmlInNative.body), 'the structured copy differs between wasm and native');
});
