// Make's order in a browser: kinds that the job does not list are put on its list with one press and one undo, and what a bag of a
// kind costs is entered beside it, from the warning about the price. By hand: node --test tests/web/order.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { launch, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-order-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

const view = (page, id) => page.evaluate((job) => window.airwright.call('open_job', { id: job }), id);
const edit = (page, id, edits) => page.evaluate(([job, list]) => window.airwright.call('edit_job', { id: job, label: 'Set up', edits: list }), [id, edits]);

async function inOrder(t, name) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { viewport: { width: 820, height: 1180 } });
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  return { page, id, go: (hash) => page.evaluate((h) => (location.hash = h), `#/job/${id}/${hash}`) };
}

test('kinds that are not on the job’s list are one finding: added together, taken back together', async (t) => {
  const { page, id, go } = await inOrder(t, 'missing');
  const { job } = await view(page, id);
  const latex = Object.keys(job.items).filter((item) => job.items[item].kind === 'round' && !job.items[item].gone);
  const gone = async () => {
    const now = (await view(page, id)).job;
    return latex.filter((item) => now.items[item].gone).length;
  };
  await edit(page, id, latex.map((item) => ({ op: 'remove', part: 'job', path: ['items'], id: item })));
  await page.reload();
  await go('make/order');
  const one = page.locator('main .finding', { hasText: /\d+ kinds are not on the list/ });
  await one.first().waitFor({ timeout: 30000 });
  // those that this job uses, and no other, are asked about
  const used = Number((await one.first().innerText()).match(/(\d+) kinds/)[1]);
  assert.ok(used > 3 && used <= latex.length, `${used} of ${latex.length}`);
  assert.equal(await page.locator('main .findings > ul > li', { hasText: 'not on the list' }).count(), 1);
  await one.first().getByRole('button', { name: 'Add all' }).click();
  await one.first().waitFor({ state: 'detached', timeout: 15000 });
  assert.equal(await gone(), latex.length - used);
  await page.locator('.strip').getByRole('button', { name: 'Undo' }).click();
  await one.first().waitFor({ timeout: 15000 });
  assert.equal(await gone(), latex.length);
});

test('a kind without a cost has fields for it in the order, and the warning about the price leads there', async (t) => {
  const { page, id, go } = await inOrder(t, 'cost');
  const { private: priv, job } = await view(page, id);
  const item = Object.keys(priv.costs).find((key) => job.items[key]?.kind === 'round' && priv.costs[key].bag > 0);
  assert.ok(item);
  await edit(page, id, [{ op: 'set', part: 'private', path: ['costs', item, 'bag'], value: 0 }]);
  await page.reload();
  await go('papers/price');
  await page.getByRole('link', { name: 'Enter costs' }).first().click();
  const fields = page.locator('li.line .cost');
  await fields.first().waitFor({ timeout: 30000 });
  assert.equal(await page.evaluate(() => location.hash), `#/job/${id}/make/order`);
  await fields.first().getByRole('spinbutton', { name: 'Bag of' }).fill('50');
  await fields.first().getByRole('spinbutton', { name: 'Bag of' }).press('Tab');
  await fields.first().getByRole('spinbutton', { name: 'costs' }).fill('7.40');
  await fields.first().getByRole('spinbutton', { name: 'costs' }).press('Tab');
  await until(page, async ([job, key]) => (await window.airwright.call('open_job', { id: job })).private.costs[key].cents === 740, [id, item]);
  assert.equal((await view(page, id)).private.costs[item].bag, 50);
  assert.ok(await fields.first().isVisible(), 'the fields stay where they were used');
});
