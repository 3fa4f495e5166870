// A day at the venue with no network: ticks, a step left out with its reason, an own step, a photo, the signature, the count
// back; all of it there after a reload, and the signature on the client's paper. Then what Site promises of itself: nothing
// runs while nobody touches it, letters in the sun, access rules. By hand: node --test tests/web/site.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { AXE, controlled, launch, mode, open, until } from './browser.mjs';
import { paleLetters } from './contrast.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-site-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The app offline with its demo job, in Site. */
async function inSite(t, name, more = {}, before = () => {}) {
  const site = await serve(t, '/app', WEB);
  const context = await launch(t, join(root, name), { viewport: { width: 820, height: 1180 }, ...more });
  const page = await open(context, site.url);
  assert.ok(await controlled(page));
  await site.stop();
  await before(context);
  await page.reload();
  await mode(page, 'owner');
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  await go(page, id, 'site');
  await page.locator('#step-now').waitFor({ timeout: 30000 });
  return { page, id };
}

const go = (page, id, part) => page.evaluate((h) => (location.hash = h), `#/job/${id}/site/${part}`);
const job = (page, id) => page.evaluate(async (job) => (await window.airwright.call('open_job', { id: job })).job, id);
const press = (page, name, exact = true) => page.getByRole('button', { name, exact }).first().click();

/** A picture of 2400 x 1800 with a place written beside it, as a telephone makes it: turned by its Exif, with coordinates. */
async function photo(page) {
  const jpeg = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(2400, 1800);
    const brush = canvas.getContext('2d');
    brush.fillStyle = '#a07860';
    brush.fillRect(0, 0, 2400, 1800);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer())];
  });
  // Exif 2.32: orientation 6 (turned right) and a GPS record whose text is easy to find again
  const tiff = Buffer.from('4d4d002a00000008' + '0002' + '0112' + '0003' + '00000001' + '00060000' + '8825' + '0004' + '00000001' + '00000026' + '00000000' + '0001' + '0001' + '0002' + '00000002' + '4e000000' + '00000000', 'hex');
  const exif = Buffer.concat([Buffer.from('Exif\0\0'), tiff, Buffer.from('GPS-51.5074-0.1278')]);
  const head = Buffer.from([0xff, 0xe1, (exif.length + 2) >> 8, (exif.length + 2) & 255]);
  const bytes = Buffer.from(jpeg);
  return Buffer.concat([bytes.subarray(0, 2), head, exif, bytes.subarray(2)]);
}

test('a scripted day offline is all there after a reload, and the signature is on the client’s paper', async (t) => {
  const { page, id } = await inSite(t, 'day');
  const first = await page.locator('#step-now').innerText();

  // a tick by the large bar, one by the keyboard, one taken back by undo
  await press(page, 'Done');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((t) => t.done).length === 1, id);
  await page.locator('#step-now').filter({ hasNotText: first }).waitFor();
  await page.evaluate(() => document.activeElement?.blur());
  await page.keyboard.press('Space');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((t) => t.done).length === 2, id);
  await press(page, 'Undo');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((t) => t.done).length === 1, id);

  // the timer, given to a person, later in the own order
  await press(page, 'Start the timer');
  const timed = await page.locator('#step-now').innerText();
  await page.getByRole('button', { name: /^Pause/ }).waitFor();
  await press(page, 'Who');
  await press(page, 'Ben');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.assigned).length === 1, id);
  await press(page, 'Later');
  await page.locator('#step-now').filter({ hasNotText: timed }).waitFor();
  await press(page, 'Earlier', false);
  assert.equal(Object.values((await job(page, id)).places).length >= 1, true);

  // left out with a usual reason
  await press(page, 'Leave out');
  await press(page, 'The venue says no');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).some((t) => t.skipped && t.reason === 'The venue says no'), id);
  await page.getByText('left out: The venue says no').first().waitFor();

  // an own step, planned with the others
  await press(page, 'A step of your own');
  await page.getByLabel('What to do').fill('Ask the porter for the key');
  await press(page, 'Add a step');
  await page.getByRole('button', { name: /^Ask the porter for the key/ }).waitFor({ timeout: 15000 });

  // a photo of a telephone: smaller, the right way up, and without the place where it was taken
  await page.locator('.tools input[type=file]').setInputFiles({ name: 'IMG_1.jpg', mimeType: 'image/jpeg', buffer: await photo(page) });
  await until(page, async (job) => Object.keys((await window.airwright.call('open_job', { id: job })).job.photos).length === 1, id);
  const [kept] = Object.values((await job(page, id)).photos);
  assert.deepEqual([kept.width_px, kept.height_px], [1200, 1600]);
  const bytes = Buffer.from(await page.evaluate(async (hash) => [...(await window.airwright.callBytes('photo', { hash })).body], kept.hash));
  assert.ok(!bytes.includes('Exif') && !bytes.includes('GPS-51.5'));

  // the walk-through, damage, and the signature by a pen on the box
  await go(page, id, 'hand-over');
  await page.getByRole('button', { name: /^Tick all of/ }).first().click();
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((t) => t.step.startsWith('walk.') && t.done).length >= 3, id);
  await page.getByLabel('What is damaged').fill('Chair leg, scratched');
  await page.getByLabel('What is damaged').press('Tab');
  await press(page, 'Note damage');
  await until(page, async (job) => Object.values((await window.airwright.call('open_job', { id: job })).job.damage).length === 1, id);
  await press(page, 'Keep the signature');
  await page.getByText('Sign in the box first.').waitFor();
  await page.getByLabel('Name of who signs').fill('Mara Lindqvist');
  await page.getByLabel('Name of who signs').press('Tab');
  const box = page.getByRole('img', { name: 'Box to sign in' });
  await box.scrollIntoViewIfNeeded();
  const at = await box.boundingBox();
  await page.mouse.move(at.x + 60, at.y + 80);
  await page.mouse.down();
  for (let i = 1; i <= 20; i++) await page.mouse.move(at.x + 60 + i * 12, at.y + 80 + 30 * Math.sin(i));
  await page.mouse.up();
  // not every point was seen: asked once, and kept all the same; then the box is put away and what was kept stands there
  await press(page, 'Keep the signature');
  await page.getByText(/points are ticked as seen\. Keep the signature all the same\?$/).waitFor();
  assert.deepEqual(await page.evaluate(async (job) => Object.keys((await window.airwright.call('open_job', { id: job })).signatures), id), []);
  await press(page, 'Keep it all the same');
  await page.getByText(/^Signed by Mara Lindqvist, \d/).waitFor();
  await page.getByRole('img', { name: 'Signature of Mara Lindqvist' }).waitFor();
  assert.equal(await page.getByRole('button', { name: 'Keep the signature' }).count(), 0);

  // after the event: one thing is missing, and the waste
  await go(page, id, 'count');
  const things = page.locator('section[aria-labelledby="count-head"] button[aria-pressed]');
  await things.first().waitFor();
  const n = await things.count();
  for (let i = 1; i < n; i++) {
    await things.nth(i).click();
    await until(page, async ([job, want]) => Object.values((await window.airwright.call('open_job', { id: job })).job.ticks).filter((t) => t.step.startsWith('back.') && t.done).length === want, [id, i]);
  }
  await page.getByLabel('Taken by').fill('Ada');
  await page.getByLabel('Taken by').press('Tab');
  await until(page, async (job) => (await window.airwright.call('open_job', { id: job })).job.waste.taken_by === 'Ada', id);
  assert.equal(await page.locator('.missing li').count(), 1);

  // all of it after a reload
  const before = await job(page, id);
  await page.reload();
  await mode(page, 'owner');
  assert.deepEqual(await job(page, id), before);
  await page.locator('.missing li').waitFor({ timeout: 15000 });
  await go(page, id, 'hand-over');
  await page.getByRole('img', { name: 'Signature of Mara Lindqvist' }).waitFor();
  await go(page, id, 'site');
  await page.getByText('left out: The venue says no').first().waitFor();
  // the walk-through and the count are no steps: the list of jobs counts the one tick
  const [row] = await page.evaluate(() => window.airwright.call('list_jobs'));
  assert.equal(row.ticked, 1);

  // the client's paper ends with the hand-over: name, what was seen, and the strokes as lines
  const pdf = Buffer.from(
    await page.evaluate(async (job) => {
      const view = await window.airwright.call('open_job', { id: job });
      const { books } = await window.airwright.call('open_books');
      const given = { kind: 'client_summary', job: view.job, private: view.private, signatures: view.signatures, own: books.own ?? books.settings?.own ?? {}, size: 'a4', language: 'en-GB', made_ms: 1_812_806_400_000, us_units: false, twelve_hours: false };
      return [...(await window.airwright.computeBytes('paper', given)).body];
    }, id),
  );
  const text = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8' });
  const last = text.split('\f').filter((p) => p.trim()).at(-1);
  for (const said of ['Hand-over', 'Mara Lindqvist', 'Seen: ', 'Chair leg, scratched']) assert.ok(last.includes(said), `${said}\n${last}`);
});

test('the step in hand and Done are in sight without scrolling at every size, and one tap is enough', async (t) => {
  const { page, id } = await inSite(t, 'sizes');
  for (const [width, height] of [[360, 640], [390, 844], [820, 1180], [1180, 820], [1440, 900]]) {
    for (const large of [false, true]) {
      await page.setViewportSize({ width, height });
      await page.evaluate((largeText) => localStorage.setItem('airwright.settings', JSON.stringify({ largeText })), large);
      await page.reload();
      await mode(page, 'owner');
      await page.locator('#step-now').waitFor({ timeout: 30000 });
      await page.waitForTimeout(300);
      const seen = await page.evaluate(() => {
        const inside = (e) => {
          const r = e.getBoundingClientRect();
          const top = document.elementFromPoint(r.left + Math.min(r.width / 2, 40), r.top + Math.min(r.height / 2, 20));
          return r.top >= 0 && r.bottom <= innerHeight && e.contains(top);
        };
        return [inside(document.querySelector('#step-now')), inside(document.querySelector('[data-key="done"]')), scrollY];
      });
      assert.deepEqual(seen, [true, true, 0], `${width} x ${height}${large ? ', large text' : ''}`);
    }
    const step = await page.locator('#step-now').innerText();
    await page.locator('[data-key="done"]').click();
    await page.locator('#step-now').filter({ hasNotText: step }).waitFor();
  }
  assert.equal(Object.values((await job(page, id)).ticks).filter((t) => t.done).length, 5);
});

test('what just happened lies over nothing that a thumb ticks, and every tool can be hit', async (t) => {
  const { page, id } = await inSite(t, 'strip');
  for (const [width, height] of [[360, 640], [390, 844], [820, 1180], [844, 390], [1440, 900]]) {
    await page.setViewportSize({ width, height });
    const step = await page.locator('#step-now').innerText();
    await press(page, 'Done');
    await page.locator('#step-now').filter({ hasNotText: step }).waitFor();
    await page.locator('[role="status"] .strip').filter({ hasText: `Done: ${step}` }).waitFor();
    // each corner and the middle of what is in sight, while the words stand there
    const covered = await page.evaluate(() => {
      const strip = document.querySelector('.strip');
      const over = [];
      const bar = strip.closest('.bar')?.getBoundingClientRect();
      const at = strip.getBoundingClientRect();
      if (!bar || at.top < bar.top - 1 || at.bottom > bar.bottom + 1) over.push(`the strip is no part of the head: ${at.top} to ${at.bottom}`);
      for (const e of document.querySelectorAll('[data-key="done"], .tools button, .clock')) {
        const r = e.getBoundingClientRect();
        for (const [x, y] of [[0.1, 0.1], [0.9, 0.1], [0.5, 0.5], [0.1, 0.9], [0.9, 0.9]]) {
          const hit = document.elementFromPoint(r.left + r.width * x, r.top + r.height * y);
          if (hit && strip.contains(hit)) over.push(e.textContent.trim());
        }
      }
      return over;
    });
    assert.deepEqual(covered, [], `${width} x ${height}`);
    await press(page, 'Undo');
    await page.locator('#step-now').filter({ hasText: step }).waitFor();
  }
  // on a telephone no tool of a plain step is left under Done
  await page.setViewportSize({ width: 390, height: 844 });
  await go(page, id, 'studio');
  await page.waitForTimeout(300);
  const under = await page.evaluate(() => {
    const done = document.querySelector('[data-key="done"]').getBoundingClientRect();
    return [...document.querySelectorAll('.tools button')].filter((e) => e.getBoundingClientRect().bottom > done.top).map((e) => e.textContent.trim());
  });
  assert.deepEqual(under, []);
});

test('a press on the words of a step takes it in hand and ticks nothing; its circle ticks it', async (t) => {
  const { page, id } = await inSite(t, 'circle', { viewport: { width: 390, height: 844 } });
  const ticked = async () => Object.values((await job(page, id)).ticks).filter((one) => one.done).length;
  const rows = page.locator('.list li.step');
  const [first, third] = [await page.locator('#step-now').innerText(), await rows.nth(2).locator('.title').innerText()];
  await rows.nth(2).locator('.title').click();
  await page.locator('#step-now').filter({ hasText: third }).waitFor();
  assert.equal(await ticked(), 0);
  // the step in hand is in sight with the focus, and from there Space ticks it; what comes after it is next, not what was passed over
  assert.deepEqual(await page.evaluate(() => [document.activeElement.id, document.querySelector('#step-now').getBoundingClientRect().top > 90]), ['step-now', true]);
  await page.keyboard.press('Space');
  await page.locator('#step-now').filter({ hasNotText: third }).waitFor();
  assert.equal(await ticked(), 1);
  assert.notEqual(await page.locator('#step-now').innerText(), first);
  // the circle of another ticks that one alone, by its own name, and takes it back
  const circle = page.getByRole('button', { name: `Tick ${first}`, exact: true });
  await circle.press('Enter');
  await page.locator(`button[aria-label="Tick ${first}"][aria-pressed="true"]`).waitFor();
  assert.equal(await ticked(), 2);
  await circle.click();
  await page.locator(`button[aria-label="Tick ${first}"][aria-pressed="false"]`).waitFor();
  assert.equal(await ticked(), 1);
  // what is done can be taken in hand and opened again
  await rows.nth(2).locator('.take').click();
  await press(page, 'Open it again');
  await page.locator('#step-now').filter({ hasText: third }).waitFor();
  await page.locator('[data-key="done"]').waitFor();
  assert.equal(await ticked(), 0);
});

test('walk-through and count begin at their heading, wherever the list was scrolled to', async (t) => {
  const { page, id } = await inSite(t, 'heading', { viewport: { width: 390, height: 844 } });
  for (const [part, way, heading] of [['site', 'Walk through and sign', 'walk-head'], ['strike', 'Count back and waste', 'count-head']]) {
    await go(page, id, part);
    const link = page.getByRole('link', { name: way });
    await link.scrollIntoViewIfNeeded();
    assert.ok(await page.evaluate(() => document.querySelector('main').scrollTop > 200), 'the list was scrolled');
    await link.click();
    await page.locator(`#${heading}`).waitFor();
    const at = await page.evaluate((h) => [document.activeElement.id, document.querySelector('main').scrollTop, document.getElementById(h).getBoundingClientRect().bottom < innerHeight - 200], heading);
    assert.deepEqual(at, [heading, 0, true]);
    await page.getByRole('link', { name: 'Back to the steps' }).click();
    await page.locator('#step-now').waitFor();
    assert.deepEqual(await page.evaluate(() => [document.activeElement.id, document.querySelector('main').scrollTop]), ['step-now', 0]);
  }
});

test('who cannot come can come after all, from the place where it was said', async (t) => {
  const { page, id } = await inSite(t, 'ill');
  // the demo's own day, an hour before the load-in
  const at = await page.evaluate(async (job) => (await window.airwright.call('open_job', { id: job })).job.times.load_in, id);
  await page.clock.setFixedTime(new Date(`${at}Z`).getTime() - 3600_000);
  await page.reload();
  await mode(page, 'owner');
  await page.getByText('Van late, somebody ill?').click();
  const names = await page.getByRole('button', { name: / cannot come$/ }).allInnerTexts();
  assert.ok(names.length > 1);
  for (let left = names.length; left > 1; left--) {
    await page.getByRole('button', { name: / cannot come$/ }).last().click();
    await until(page, async ([job, want]) => Object.values((await window.airwright.call('open_job', { id: job })).job.crew).filter((p) => !p.gone).length === want, [id, left - 1]);
  }
  await page.getByText('Nobody else is left.').waitFor();
  const away = names.at(-1).replace(' cannot come', '').trim();
  await page.getByRole('button', { name: `${away} can come after all` }).click();
  await until(page, async ([job, name]) => Object.values((await window.airwright.call('open_job', { id: job })).job.crew).some((p) => p.name === name && !p.gone), [id, away]);
  await page.getByRole('button', { name: `${away} cannot come` }).waitFor();
});

test('while nobody touches it nothing runs but the clock, once at the full minute: counted for 25 seconds', async (t) => {
  const count = () => {
    window.woken = [];
    const wrap = (name, at = 0) => {
      const real = window[name].bind(window);
      window[name] = (...args) => {
        const given = args[at];
        args[at] = (...more) => (window.woken.push(name), given(...more));
        return real(...args);
      };
    };
    for (const name of ['setTimeout', 'setInterval', 'requestAnimationFrame', 'requestIdleCallback']) wrap(name);
  };
  const { page } = await inSite(t, 'idle', {}, (context) => context.addInitScript(count));
  await page.waitForTimeout(10000); // the plan is packed to the end, the strip is gone
  await page.evaluate(() => (window.woken.length = 0));
  await page.waitForTimeout(25000);
  const woken = await page.evaluate(() => window.woken);
  assert.ok(woken.length <= 1 && woken.every((name) => name === 'setTimeout'), `woken by ${woken}`);
  // the count counts: what is started is seen
  await page.evaluate(() => new Promise((r) => setTimeout(() => requestAnimationFrame(r), 10)));
  assert.deepEqual((await page.evaluate(() => window.woken)).slice(-2), ['setTimeout', 'requestAnimationFrame']);
});

test('in the sunlight theme every letter of Site has 7 : 1, and the access rules hold in every theme', async (t) => {
  const { page, id } = await inSite(t, 'sun', { bypassCSP: true });
  await page.evaluate(AXE);
  const themes = { sun: 'Sun screen', hall: 'Dim screen', paper: null };
  for (const [theme, button] of Object.entries(themes)) {
    await go(page, id, 'site');
    const on = page.getByRole('button', { name: button ?? 'Dim screen' });
    await on.click(); // one tap; a second one leads back to paper
    assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), theme);
    for (const part of ['studio', 'site', 'strike', 'hand-over', 'count']) {
      await go(page, id, part);
      await page.waitForTimeout(500);
      const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
      assert.deepEqual(violations.map((v) => [v.id, v.nodes.map((n) => n.target.join(' '))]), [], `${part} in ${theme}`);
      if (theme !== 'sun') continue;
      const { letters, pale } = await page.evaluate(paleLetters);
      assert.ok(letters > 100, `${part} has words`);
      assert.deepEqual(pale, [], part);
    }
  }
});
