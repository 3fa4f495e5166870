// Shapes and places of Design: half an arch, the length of a drawn path, how far two of a kind stand apart, foils in a garland.
// By hand: node --test tests/web/design-shapes.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { holds, launch, live, open, until } from './browser.mjs';
import { serve } from './serve.mjs';

const WEB = process.env.AIRWRIGHT_WEB ?? fileURLToPath(new URL('../../ui/dist/web', import.meta.url));
const root = mkdtempSync(join(tmpdir(), 'airwright-shapes-'));
after(() => rmSync(root, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** The Design room of the demo job, at its arch. */
async function design(t, name, viewport, more = {}) {
  const site = await serve(t, '/app', WEB, 'csp');
  const context = await launch(t, join(root, name), { viewport, ...more });
  const page = await open(context, site.url);
  const id = await until(page, async () => (await window.airwright.call('list_jobs'))[0]?.id);
  await page.evaluate((hash) => (location.hash = hash), `#/job/${id}/design/arch`);
  await page.getByRole('img', { name: /^Front view of Jetty arch/ }).waitFor();
  const job = () => page.evaluate(async (i) => (await window.airwright.call('open_job', { id: i })).job, id);
  /** The line of a piece as the plan hangs it: its first and its last place, mm. */
  const line = (piece) =>
    page.evaluate(
      async ([i, p]) => {
        const { job: j, private: money } = await window.airwright.call('open_job', { id: i });
        const scene = await window.airwright.compute('scene', { job: j, private: money, depth: 'preview' });
        const rods = scene.tubes.filter((tube) => tube.piece === p && tube.what === 'line');
        return [rods[0].from, rods.at(-1).to].map((at) => [at[0] / 10, at[1] / 10]);
      },
      [id, piece],
    );
  const undo = () => page.getByRole('button', { name: 'Undo', exact: true }).first().click();
  return { page, job, line, undo };
}

const choose = (page, label) => page.getByRole('radio', { name: label, exact: true }).check({ force: true });
const middle = (r) => [r.x + r.width / 2, r.y + r.height / 2];

test('half an arch, its foot on either side: its end is dragged while its foot stays; an end that nothing holds is said', async (t) => {
  const { page, job, line, undo } = await design(t, 'half', { width: 1440, height: 900 });
  const garland = async () => (await job()).pieces.arch.garland;
  const { span_mm, rise_mm } = await garland();
  const feet = [];
  for (const [side, mirrored] of [['left', false], ['right', true]]) {
    await choose(page, `Half arch, foot ${side}`);
    await holds(page, async () => {
      const g = await garland();
      assert.deepEqual([g.shape, g.mirrored, g.span_mm, g.rise_mm], ['half_arch', mirrored, span_mm, rise_mm]);
    });
    const [foot, end] = await line('arch');
    // the first tie lies half a balloon up, the last half a balloon before the end
    assert.ok(foot[1] < 250 && end[1] > rise_mm - 250, `${foot} and ${end}`);
    assert.ok(mirrored ? foot[0] > end[0] : foot[0] < end[0]);
    assert.ok(Math.abs(Math.abs(foot[0] - end[0]) - span_mm) < 300);
    feet.push(foot[0]);
    await page.getByRole('img', { name: /^Front view of Jetty arch: \d+ balloons/ }).waitFor();
  }
  // it shares the middle of its frame on either side
  assert.ok(Math.abs(feet[1] - feet[0] - span_mm) < 60, `${feet}`);
  const held = page.getByText(/The top end of Jetty arch hangs in the air/);
  assert.equal(await held.count(), 0);

  await choose(page, 'Draw');
  const top = page.getByRole('slider', { name: 'Top end' });
  const foot = page.getByRole('slider', { name: 'Foot' });
  const [a, b] = [middle(await foot.boundingBox()), middle(await top.boundingBox())];
  const scale = (a[0] - b[0]) / span_mm;
  await page.mouse.move(...b);
  await page.mouse.down();
  await page.mouse.move(b[0] - 400 * scale, b[1] - 600 * scale, { steps: 8 });
  await page.mouse.up();
  await holds(page, async () => {
    const g = await garland();
    assert.ok(Math.abs(g.span_mm - span_mm - 400) <= 20 && Math.abs(g.rise_mm - rise_mm - 600) <= 20, `${g.span_mm} by ${g.rise_mm}`);
  });
  const [stays] = await line('arch');
  assert.ok(Math.abs(stays[0] - feet[1]) < 60, `${stays} is not near ${feet[1]}`);
  await held.first().waitFor();
  // keys: a centimetre, ten with Shift
  const wide = (await garland()).span_mm;
  await foot.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Enter');
  await holds(page, async () => assert.equal((await garland()).span_mm, wide + 100));
  for (let i = 0; i < 4; i++) await undo();
  await holds(page, async () => assert.equal((await garland()).shape, 'arch'));
  assert.deepEqual(page.said, []);
});

test('a drawn path is made longer by a number, from where it begins, by a finger on a phone, and one undo gives it back', async (t) => {
  const { page, job, line, undo } = await design(t, 'long', { width: 390, height: 844 }, { hasTouch: true });
  await choose(page, 'Drawn');
  const points = async () => live((await job()).pieces.arch.garland.points);
  await holds(page, async () => assert.equal((await points()).length, 9));
  const [begins, old] = [(await line('arch'))[0], await points()];
  const field = page.getByRole('spinbutton', { name: 'Length along it' });
  const long = Number((await field.inputValue()).replace(',', '.'));
  // half the perimeter of an ellipse of 2.4 by 2.2 m: π times the root of a mean of squares, to some percent; eight chords bent
  assert.ok(long > 5 && long < 5.6, `${long} m`);
  await field.tap();
  await field.fill('8');
  await field.press('Enter');
  await holds(page, async () => {
    const now = await points();
    const [width, was] = [now, old].map((list) => list.at(-1).x_mm - list[0].x_mm);
    assert.ok(Math.abs(width / was - 8 / long) < 0.005, `${width} of ${was}`);
  });
  const now = await points();
  assert.deepEqual([now[0].x_mm, now[0].y_mm], [old[0].x_mm, old[0].y_mm]);
  // on its frame too it begins where it began: within the half balloon that the first tie lies in
  const there = (await line('arch'))[0];
  assert.ok(Math.hypot(there[0] - begins[0], there[1] - begins[1]) < 120, `${there} and ${begins}`);
  await undo();
  await holds(page, async () => assert.deepEqual(await points(), old));
  // the buttons at its ends step it too
  const box = await page.getByRole('button', { name: 'Length along it, more' }).boundingBox();
  assert.ok(box.width >= 44 && box.height >= 44);
  assert.deepEqual(page.said, []);
});

test('two columns stand so far apart as is said, in the picture too; nearer than they are wide is said', async (t) => {
  const { page, job } = await design(t, 'pair', { width: 820, height: 1180 });
  await page.getByRole('button', { name: 'Add', exact: true }).first().click();
  await page.getByRole('button', { name: 'Classic column', exact: true }).click();
  const piece = async () => live((await job()).pieces).find((p) => p.kind === 'classic');
  await holds(page, async () => assert.ok(await piece()));
  const apart = page.getByRole('spinbutton', { name: 'From one to the next' });
  assert.equal(await apart.count(), 0, 'one stands alone');
  const count = page.getByRole('spinbutton', { name: 'How many alike' });
  await count.fill('2');
  await count.press('Enter');
  await apart.waitFor();
  await apart.fill('3');
  await apart.press('Enter');
  await holds(page, async () => assert.equal((await piece()).apart_mm, 3000));
  const poles = () =>
    page.evaluate(async () => {
      const [job] = (await window.airwright.call('list_jobs')).slice(0, 1);
      const { job: j, private: money } = await window.airwright.call('open_job', { id: job.id });
      const scene = await window.airwright.compute('scene', { job: j, private: money, depth: 'preview' });
      const key = Object.keys(j.pieces).find((k) => j.pieces[k].kind === 'classic');
      return [...new Set(scene.tubes.filter((tube) => tube.piece === key && tube.from[0] === tube.to[0]).map((tube) => tube.from[0]))];
    });
  const [one, other] = await poles();
  assert.equal(other - one, 30_000);
  // the picture shows them as far apart: its columns of balloons to the same scale
  await holds(page, async () => {
    const [, , width] = (await page.getByRole('img', { name: /^Front view of Classic column/ }).getAttribute('viewBox')).split(' ').map(Number);
    assert.ok(width > 3300, `${width} mm`);
  });
  await apart.fill('0.2');
  await apart.press('Enter');
  await page.getByText(/Classic column: each is \d+ mm wide, and from middle to middle there are 200 mm/).waitFor();
  await page.getByRole('button', { name: 'Set them side by side' }).click();
  await holds(page, async () => assert.equal((await piece()).apart_mm, 0));
  assert.deepEqual(page.said, []);
});

test('a round of foil is put into a garland from its form: counted as one of 18 in, seen before the balloons, and said where it is past the end', async (t) => {
  const { page, job } = await design(t, 'foil', { width: 820, height: 1180 });
  const planned = () =>
    page.evaluate(async () => {
      const [{ id }] = await window.airwright.call('list_jobs');
      const { job: j, private: money } = await window.airwright.call('open_job', { id });
      const asked = { job: j, private: money, depth: 'preview' };
      const [plan, scene] = [await window.airwright.compute('plan', asked), await window.airwright.compute('scene', asked)];
      const key = Object.keys(j.pieces).find((k) => j.pieces[k].kind === 'foils');
      const foil = scene.balls.find((b) => b.piece === key);
      const near = scene.balls.filter((b) => b.piece === 'arch' && Math.hypot(b.at[0] - foil.at[0], b.at[1] - foil.at[1]) < foil.r);
      return { foils: plan.pieces.find((p) => p.piece === key).made.foils, foil, behind: near.length > 0 && near.every((b) => b.at[2] < foil.at[2])};
    });
  await page.getByRole('button', { name: 'A round of foil' }).click();
  await page.getByRole('img', { name: /^Front view of Round of foil/ }).waitFor();
  const piece = async () => live((await job()).pieces).find((p) => p.kind === 'foils');
  const put = await piece();
  assert.deepEqual([put.on, put.foils.stand, put.foils.text], ['arch', 'in_garland', '●']);
  assert.ok(put.foils.along_mm > 2500 && put.foils.along_mm < 3000, `${put.foils.along_mm}`);
  const { foils, foil, behind } = await planned();
  // 18 in before it is filled
  assert.deepEqual(foils.map((f) => [f.text, f.height_mm, f.count]), [['', 457, 1]]);
  assert.ok(behind && foil.at[1] > 18_000, JSON.stringify(foil));

  const along = page.getByRole('spinbutton', { name: 'Middle along the garland' });
  await along.fill('9');
  await along.press('Enter');
  await page.getByText(/Round of foil is fixed 9000 mm along Jetty arch/).waitFor();
  await page.getByRole('button', { name: 'Fix it in the middle' }).click();
  await holds(page, async () => assert.ok(Math.abs((await piece()).foils.along_mm - put.foils.along_mm) < 20));
  // it is seen in its garland, and its garland with it: its one balloon is spoken of, the others are there
  const drawn = page.getByRole('img', { name: /^Front view of Round of foil: 1 balloon / }).locator('.round');
  assert.ok((await drawn.count()) > 100);
  // a heart beside it, and back from the garland's own form
  await page.getByRole('button', { name: 'Heart of foil' }).click();
  await holds(page, async () => assert.equal((await piece()).foils.text, '●♥'));
  await page.evaluate(() => (location.hash = location.hash.replace(/[^/]+$/, 'arch')));
  await page.getByRole('link', { name: /^Round of foil, 2\.\d+ m along/ }).click();
  await page.getByRole('img', { name: /^Front view of Round of foil/ }).waitFor();
  assert.deepEqual(page.said, []);
});
