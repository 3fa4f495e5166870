import { flushSync } from 'svelte';
import { describe, expect, test, vi } from 'vitest';
import Beads from './Beads.svelte';
import ClusterDrawing from './ClusterDrawing.svelte';
import FaultView from './FaultView.svelte';
import Findings from './Findings.svelte';
import LongWork from './LongWork.svelte';
import { all, loose, show, words } from './shown.testing';
import StepRow from './StepRow.svelte';

describe('steps', () => {
  test('only the circle ticks; a press on the words takes the step in hand', () => {
    const [ontake, ontick] = [vi.fn(), vi.fn()];
    show(StepRow, { title: 'Hang length 1', detail: 'Maud, 6 min', state: 'done', ontake, ontick });
    const [words1, circle] = all('button');
    expect(words('.unseen')).toEqual(['Done: Hang length 1']);
    words1?.click();
    expect([ontake.mock.calls.length, ontick.mock.calls.length]).toEqual([1, 0]);
    expect([circle?.getAttribute('aria-label'), circle?.getAttribute('aria-pressed'), words1?.hasAttribute('aria-pressed')]).toEqual(['Tick Hang length 1', 'true', false]);
    circle?.click();
    expect([ontake.mock.calls.length, ontick.mock.calls.length]).toEqual([1, 1]);
  });
  test('arrows go along the line, from words to words and from circle to circle, and stop at its end', () => {
    for (const title of ['One', 'Two']) show(StepRow, { title, state: 'tocome', ontake: () => {}, ontick: () => {} });
    for (const kind of ['.take', '.tick']) {
      const [one, two] = all(kind);
      one?.focus();
      one?.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', bubbles: true }));
      expect(document.activeElement).toBe(two);
      two?.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', bubbles: true }));
      expect(document.activeElement).toBe(two);
    }
  });
});

describe('findings', () => {
  const finding = (severity: 'stop' | 'care', room: 'design' | 'make', fixes: string[]) => ({
    code: severity,
    severity,
    room,
    message: `${severity} here.`,
    action: 'Do it.',
    path: [],
    fixes: fixes.map((label) => ({ label, edits: [label] })),
  });
  const list = [finding('care', 'design', ['Add one', 'Drop one']), finding('stop', 'make', [])];

  test('stop first; a cure is a button, otherwise the way to its room', () => {
    const onfix = vi.fn();
    show(loose(Findings), { findings: list, toRoom: (r: string) => `#/job/j/${r}`, onfix });
    expect(words('.wrong')).toEqual(['Must be solved: stop here.', 'Look at this: care here.']);
    expect(all('a').map((a) => [a.textContent?.trim(), a.getAttribute('href')])).toEqual([['See Make', '#/job/j/make']]);
    all('button')[1]?.click();
    expect(onfix).toHaveBeenCalledExactlyOnceWith(['Drop one'], 'Drop one');
  });
  test('twelve kinds that are not on the list are one finding, added with one press, or one by one', () => {
    const missing = Array.from({ length: 12 }, (_, i) => ({ ...finding('care', 'make', [`Add ${i}`]), code: 'item_missing', message: `Kind ${i} is missing.` }));
    const onfix = vi.fn();
    show(loose(Findings), { findings: [...missing, ...list], toRoom: () => '#', onfix });
    expect(words('.wrong').filter((text) => text.includes('Kind 7'))).toEqual(['Look at this: Kind 7 is missing.']);
    expect(all('ul:not(.each) > li').length).toBe(3);
    all('button')
      .find((b) => b.textContent?.trim() === 'Add all')
      ?.click();
    expect(onfix).toHaveBeenCalledExactlyOnceWith(missing.map((_, i) => `Add ${i}`), '12 kinds put on the list');
    all('details button')[3]?.click();
    expect(onfix).toHaveBeenLastCalledWith(['Add 3'], 'Add 3');
  });
  test('what no cost is known of leads to the order, from every room', () => {
    const unpriced = { ...finding('care', 'design', []), code: 'no_cost', room: 'papers' as const };
    show(loose(Findings), { findings: [unpriced], here: 'papers', toRoom: (r: string) => `#/job/j/${r}`, onfix: () => {} });
    expect(all('a').map((a) => [a.textContent?.trim(), a.getAttribute('href')])).toEqual([['Enter costs', '#/job/j/make/order']]);
  });
  test('in its own room it does not lead away', () => {
    show(loose(Findings), { findings: list, here: 'make', toRoom: () => '#', onfix: () => {} });
    expect(all('a')).toEqual([]);
  });
});

test('a fault keeps its code in the details', () => {
  const onretry = vi.fn();
  show(FaultView, { fault: { code: 'store.full', message: 'The photo was not saved.', hint: 'Free some space.' }, onretry });
  expect(words('[role="alert"] .wrong')).toEqual(['Must be solved: The photo was not saved.']);
  expect(words('details code')).toEqual(['store.full']);
  expect(all('details')[0]?.hasAttribute('open')).toBe(false);
  all('button')[0]?.click();
  expect(onretry).toHaveBeenCalledOnce();
});

test('long work shows only after 300 ms', () => {
  vi.useFakeTimers();
  show(LongWork, { label: 'Filling 20,000 balloons', part: 0.62 });
  expect(all('[role="progressbar"]')).toEqual([]);
  vi.advanceTimersByTime(300);
  flushSync();
  expect(all('[role="progressbar"]')[0]?.getAttribute('aria-valuenow')).toBe('62');
});

test('beads: done, in hand, to come; a long line has no knot for each', () => {
  show(Beads, { done: 2, all: 5, label: 'Steps' });
  expect(all('.knot').map((k) => k.classList.item(1))).toEqual(['done', 'done', 'now', 'open', 'open']);
  expect(all('[role="progressbar"]')[0]?.getAttribute('aria-valuetext')).toBe('2 of 5 done');
  show(Beads, { done: 300, all: 1000 });
  expect(all('.knot').length).toBe(5 + 3);
});

test('a cluster says its rounds and draws each', () => {
  const shade = { name: 'Old rose', srgb: '#d9798a', pattern: 'hatched' as const };
  show(ClusterDrawing, { rounds: [1, 2, 3, 4].map(() => ({ shade, diameter: 8.5, figure: '11' })) });
  const [svg] = all('svg[role="img"]');
  expect(svg?.getAttribute('aria-label')).toBe('Old rose 11, Old rose 11, Old rose 11, Old rose 11 about a knot');
  expect(svg?.querySelectorAll('circle.edge').length).toBe(4);
  expect(svg?.querySelectorAll('path[fill="url(#p-hatched-light)"]').length).toBe(4);
});
