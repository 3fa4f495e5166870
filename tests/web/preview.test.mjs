// A paper before it is printed: what the screen shows and what the browser prints is the PDF, page by page. The judge is Poppler, which
// draws and reads the PDF on its own. By hand: node --test tests/web/preview.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, launch, open } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-preview-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** Pixels that are compared together: letters are drawn a little differently by every program. */
const BLOCK = 12;
/** Most that such a block may differ in the mean of its grey, of 255, and most of a page together. */
const MOST_BLOCK = 60;
const MOST_PAGE = 3;

/** The app with its demo job, in its Papers room. */
async function app(t, name, viewport = { width: 1280, height: 1000 }, more = {}) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { acceptDownloads: true, viewport, ...more });
  const page = await open(context, site.url);
  const id = await page.evaluate(async () => {
    await window.airwright.call('first_start', { today: '2027-05-26' });
    return (await window.airwright.call('list_jobs'))[0].id;
  });
  await page.evaluate((h) => (location.hash = h), `#/job/${id}/papers`);
  await page.getByRole('button', { name: 'Preview Crew pack' }).waitFor();
  return { page, id };
}

/** A paper on the screen, its pages as pictures, and the file that its Save gives. */
async function seen(page, name) {
  await page.getByRole('button', { name: `Preview ${name}` }).click();
  await page.locator('.printed svg').first().waitFor({ timeout: 30000 });
  const shots = [];
  for (const sheet of await page.locator('.printed .sheet').all()) shots.push(await sheet.screenshot());
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save', exact: true }).click()]);
  const pdf = join(root, `${name}.pdf`);
  await download.saveAs(pdf);
  return { pdf, shots };
}

/** The words of each page of a PDF, in no order. */
const words = (pdf) =>
  execFileSync('pdftotext', ['-raw', pdf, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 })
    .split('\f')
    .slice(0, -1)
    .map((page) => page.split(/\s+/).filter(Boolean).sort());

const info = (pdf) => execFileSync('pdfinfo', [pdf], { encoding: 'utf8' });

/** How far two pictures are apart in grey: the most of a block, and the mean. */
const apart = (page, one, other) =>
  page.evaluate(
    async ([a, b, block]) => {
      const pixels = async (bytes, size) => {
        const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${bytes}`)).blob());
        const [wide, high] = size ?? [image.width, image.height];
        const canvas = new OffscreenCanvas(wide, high);
        const context = canvas.getContext('2d');
        context.drawImage(image, 0, 0, wide, high);
        return { wide, high, data: context.getImageData(0, 0, wide, high).data };
      };
      const p = await pixels(a);
      const q = await pixels(b, [p.wide, p.high]);
      const grey = (of, i) => 0.299 * of.data[i] + 0.587 * of.data[i + 1] + 0.114 * of.data[i + 2];
      let [most, sum, n] = [0, 0, 0];
      for (let y = 0; y + block <= p.high; y += block) {
        for (let x = 0; x + block <= p.wide; x += block) {
          let d = 0;
          for (let dy = 0; dy < block; dy++) {
            for (let dx = 0; dx < block; dx++) {
              const i = ((y + dy) * p.wide + x + dx) * 4;
              d += grey(p, i) - grey(q, i);
            }
          }
          const mean = Math.abs(d) / block ** 2;
          most = Math.max(most, mean);
          sum += mean;
          n++;
        }
      }
      return { most, mean: sum / n };
    },
    [one.toString('base64'), other.toString('base64'), BLOCK],
  );

for (const name of ['Client summary', 'Crew pack', 'Labels', 'Shopping list']) {
  test(`${name}: the screen shows what Poppler draws of its file, and the printer gets the same pages`, async (t) => {
    // a page and the frame around it fit the window, so that nothing lies over it
    const { page } = await app(t, name, { width: 1280, height: 1600 });
    const { pdf, shots } = await seen(page, name);
    const pages = shots.length;
    assert.match(info(pdf), new RegExp(`Pages: +${pages}\n`));
    execFileSync('pdftoppm', ['-png', '-scale-to-x', '840', '-scale-to-y', '-1', pdf, join(root, name)]);
    const digits = String(pages).length;
    const drawn = (n) => readFileSync(join(root, `${name}-${String(n + 1).padStart(digits, '0')}.png`));
    const other = await page.context().newPage(); // no rules of the app about where pictures come from
    for (const [n, shot] of shots.entries()) {
      const far = await apart(other, drawn(n), shot);
      if (process.env.KEEP) writeFileSync(join(process.env.KEEP, `${name}-${n + 1}.png`), shot);
      t.diagnostic(`page ${n + 1}: ${far.most.toFixed(1)}, ${far.mean.toFixed(2)}`);
      assert.ok(far.most < MOST_BLOCK && far.mean < MOST_PAGE, `page ${n + 1}: ${JSON.stringify(far)}`);
    }
    // another page is told from it
    if (pages > 1) assert.ok((await apart(other, drawn(1), shots[0])).mean > MOST_PAGE);
    const printed = join(root, `${name}-printed.pdf`);
    writeFileSync(printed, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
    assert.match(info(printed), new RegExp(`Pages: +${pages}\n`));
    assert.match(info(printed), /Page size: +59[45]\.\d+ x 84[12](\.\d+)? pts/);
    assert.deepEqual(words(printed), words(pdf));
    assert.deepEqual(page.said, []);
  });
}

test('a preview opens, grows and closes by keys, and the focus comes back', async (t) => {
  const { page } = await app(t, 'keys');
  await page.getByRole('radio', { name: 'US Letter' }).press('Space');
  const button = page.getByRole('button', { name: 'Preview Client summary' });
  await button.press('Enter');
  const sheet = page.locator('.printed .sheet').first();
  await sheet.locator('svg').waitFor({ timeout: 30000 });
  assert.equal(await page.evaluate(() => document.activeElement?.textContent), 'Client summary');
  const before = await sheet.boundingBox();
  assert.ok(Math.abs(before.height / before.width - 279.4 / 215.9) < 0.01, 'a sheet of US Letter');
  await page.keyboard.press('+');
  assert.ok((await sheet.boundingBox()).width > before.width * 1.4);
  await page.keyboard.press('-');
  assert.equal((await sheet.boundingBox()).width, before.width);
  // over it lie the findings: Escape closes what is on top
  await page.getByRole('button', { name: /\d+ findings?/ }).press('Enter');
  const dialog = page.getByRole('dialog');
  await dialog.waitFor();
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
  assert.equal(await sheet.isVisible(), true, 'the paper stays');
  await page.keyboard.press('Escape');
  await button.waitFor();
  assert.ok(await button.evaluate((b) => b === document.activeElement), 'the focus is where it was');
  // the address alone shows the room
  await button.press('Enter');
  await sheet.locator('svg').waitFor();
  assert.match(page.url(), /papers\/papers\/look$/);
  await page.reload();
  await button.waitFor({ timeout: 30000 });
});

test('over a paper with a price stands what the price leaves out, and leads to it', async (t) => {
  const { page, id } = await app(t, 'unpriced');
  const go = (room) => page.evaluate((h) => (location.hash = h), `#/job/${id}/${room}`);
  const said = page.locator('.view').getByText(/The price leaves out .*foil 1/);
  const looked = async (name) => {
    await page.getByRole('button', { name }).click();
    await page.locator('.printed svg').first().waitFor({ timeout: 30000 });
  };
  await looked('Preview Client summary');
  assert.equal(await said.count(), 0, 'every cost is known');
  await go('design');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await page.getByRole('button', { name: 'Foil numbers and letters' }).click();
  await page.getByRole('img', { name: /^Front view of Foil numbers and letters/ }).waitFor();
  await go('papers');
  await looked('Preview Crew pack');
  assert.equal(await said.count(), 0, 'no price is on it');
  await page.getByRole('button', { name: 'Back from the preview' }).click();
  await looked('Preview Client summary');
  await said.waitFor();
  await page.locator('.view').getByRole('link', { name: 'Enter costs' }).click();
  await page.waitForURL(/make\/order$/);
  await go('papers/bills');
  await page.getByRole('button', { name: 'Quote', exact: true }).click();
  await looked(/^Preview$/);
  await said.waitFor();
  assert.deepEqual(page.said, []);
});

test('a draft that is looked at follows the job', async (t) => {
  const { page, id } = await app(t, 'draft');
  const go = (room) => page.evaluate((h) => (location.hash = h), `#/job/${id}/${room}`);
  await go('brief');
  const name = page.getByLabel('Name of the job');
  const was = await name.inputValue();
  await name.fill('Lantern supper');
  await name.press('Tab');
  await go('papers/bills');
  await page.getByRole('button', { name: 'Quote', exact: true }).click();
  await page.getByRole('button', { name: 'Preview', exact: true }).click();
  const pages = page.locator('.printed');
  await pages.getByText('Lantern supper').first().waitFor({ timeout: 30000 });
  await page.keyboard.press('Control+z');
  await pages.getByText(was).first().waitFor({ timeout: 30000 });
  assert.equal(await pages.getByText('Lantern supper').count(), 0);
});

for (const [name, viewport, theme] of [
  ['phone', { width: 390, height: 844 }, 'hall'],
  ['tablet', { width: 820, height: 1180 }, 'sun'],
  ['desk', { width: 1440, height: 900 }, 'paper'],
]) {
  test(`the preview breaks no access rule and fits on a ${name} (${theme})`, async (t) => {
    const { page } = await app(t, `axe-${name}`, viewport);
    await page.evaluate((to) => document.documentElement.setAttribute('data-theme', to), theme);
    await page.getByRole('button', { name: 'Preview Crew pack' }).click();
    await page.locator('.printed svg').first().waitFor({ timeout: 30000 });
    assert.ok(await page.evaluate(() => document.getElementById('main').scrollWidth <= document.getElementById('main').clientWidth), 'nothing sticks out');
    if (process.env.KEEP) await page.screenshot({ path: join(process.env.KEEP, `${name}-${theme}.png`) });
    await page.evaluate(AXE);
    const broken = await page.evaluate(async () => (await window.axe.run(document, { resultTypes: ['violations'] })).violations.map((v) => `${v.id}: ${v.nodes[0].html}`));
    assert.deepEqual(broken, []);
    await page.getByRole('combobox', { name: 'Which of the papers' }).selectOption({ label: 'Packing list' });
    const part = page.locator('.printed .sheet');
    assert.ok((await part.allTextContents()).every((text) => text.includes('Packing list')));
    // and that alone is printed
    const printed = join(root, `part-${name}.pdf`);
    writeFileSync(printed, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
    assert.match(info(printed), new RegExp(`Pages: +${await part.count()}\n`));
    await page.getByRole('button', { name: 'Save all' }).waitFor();
  });
}
