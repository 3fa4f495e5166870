import { describe, expect, test } from 'vitest';
import type { Job, Task } from '../../desk';
import { near } from '../jobs/together.svelte';
import { lanes, neighbour, type Bar } from './lanes';
import { pinEdits, pinId, teamEdits, teamOf, unpinEdits } from './pins';

const bar = (id: string, start: number, end: number, more: Partial<Task> = {}): Bar => ({
  task: { id, phase: 'prepare', who: ['a'], inflators: 0, ladders: 0, ...more } as Task,
  start,
  end,
});
const job = {
  crew: { a: { name: 'Ada', order: '1', gone: false }, b: { name: 'Ben', order: '0', gone: false } },
  kit: { i: { kind: 'inflator', count: 2, order: '0', gone: false } },
  vehicle: { name: 'Van' },
  pins: {},
  teams: {},
} as unknown as Job;

describe('rows', () => {
  test('people in their order; work of nobody has a row of its own', () => {
    const rows = lanes('people', job, [bar('x', 0, 1), bar('y', 1, 2, { who: ['b', 'a'] }), bar('z', 2, 3, { who: [] })]);
    expect(rows.map((r) => [r.name, r.bars.map((b) => b.task.id).join('')])).toEqual([
      ['Ben', 'y'],
      ['Ada', 'xy'],
      ['Nobody yet', 'z'],
    ]);
  });

  test('an inflator is passed on when it is free; two at once take two', () => {
    const rows = lanes('things', job, [bar('x', 0, 10, { inflators: 1 }), bar('y', 5, 8, { inflators: 1 }), bar('z', 8, 12, { inflators: 1 })]);
    expect(rows.map((r) => [r.name, r.bars.map((b) => b.task.id).join('')])).toEqual([
      ['Inflator 1', 'x'],
      ['Inflator 2', 'yz'],
    ]);
  });

  test('bars of one phase that overlap stand under each other', () => {
    const rows = lanes('phases', job, [bar('x', 0, 10), bar('y', 5, 8), bar('z', 10, 12)]);
    expect(rows.map((r) => r.bars.map((b) => b.task.id).join(''))).toEqual(['xz', 'y']);
    for (const row of rows) row.bars.slice(1).forEach((b, i) => expect(b.start).toBeGreaterThanOrEqual(row.bars[i]?.end ?? 0));
  });
});

test('arrows go along the row and to the bar nearest in time', () => {
  const rows = lanes('people', job, [bar('p', 0, 5), bar('q', 5, 9), bar('r', 100, 110), bar('s', 101, 109, { who: ['b'] })]);
  // Ben stands first
  expect(neighbour(rows, 1, 0, 'on')).toEqual({ row: 1, index: 1 });
  expect(neighbour(rows, 1, 0, 'back')).toBeNull();
  expect(neighbour(rows, 0, 0, 'down')).toEqual({ row: 1, index: 2 });
  expect(neighbour(rows, 0, 0, 'up')).toBeNull();
});

describe('pins', () => {
  test('the id is one that the store takes, and one for each task', () => {
    expect(pinId('inflate.arch.2')).toBe('inflate-arch-2');
  });

  test('a first pin is added, a later one set, one that was taken off comes back', () => {
    expect(pinEdits(job, 'hang.arch', '2027-06-12T10:00').map((e) => e.op)).toEqual(['add']);
    const held = { ...job, pins: { 'hang-arch': { task: 'hang.arch', at: '', order: '', gone: false } } } as Job;
    expect(pinEdits(held, 'hang.arch', '2027-06-12T10:00').map((e) => e.op)).toEqual(['set', 'set']);
    expect(unpinEdits(held, 'hang.arch')).toEqual([{ op: 'remove', part: 'job', path: ['pins'], id: 'hang-arch' }]);
    const off = { ...job, pins: { 'hang-arch': { task: 'hang.arch', at: '', order: '', gone: true } } } as Job;
    expect(pinEdits(off, 'hang.arch', '2027-06-12T10:00').map((e) => e.op)).toEqual(['restore', 'set', 'set']);
    expect(unpinEdits(off, 'hang.arch')).toEqual([]);
  });
});

describe('people at a task', () => {
  const set = (gone: boolean) => ({ ...job, teams: { 'place-t': { task: 'place.t', people: 2, order: '', gone } } }) as Job;

  test('a first number is added, a later one set, one that was taken off comes back', () => {
    expect(teamEdits(job, 'place.t', 2)).toEqual([{ op: 'add', part: 'job', path: ['teams'], id: 'place-t', before: null, value: { task: 'place.t', people: 2 } }]);
    expect(teamEdits(set(false), 'place.t', 1).map((e) => e.op)).toEqual(['set', 'set']);
    expect(teamEdits(set(true), 'place.t', 1).map((e) => e.op)).toEqual(['restore', 'set', 'set']);
  });

  test('left to the plan, it is gone', () => {
    expect(teamEdits(set(false), 'place.t', null)).toEqual([{ op: 'remove', part: 'job', path: ['teams'], id: 'place-t' }]);
    expect([teamEdits(job, 'place.t', null), teamEdits(set(true), 'place.t', null)]).toEqual([[], []]);
    expect([teamOf(set(false), 'place.t')?.people, teamOf(set(true), 'place.t'), teamOf(job, 'place.t')]).toEqual([2, undefined, undefined]);
  });
});

test('only jobs within four days of each other are compared', () => {
  const row = (id: string, day: number, more = {}) => ({ id, ready_by_ms: day * 86_400_000, stage: 'booked', gone: false, ...more }) as unknown as Parameters<typeof near>[0][number];
  const rows = [row('a', 0), row('b', 3), row('c', 20), row('d', 1, { stage: 'cancelled' }), row('e', 2, { ready_by_ms: null })];
  expect(near(rows).map((r) => r.id)).toEqual(['a', 'b']);
  expect(near(rows, 'b').map((r) => r.id)).toEqual(['b', 'a']);
  expect(near(rows, 'c')).toEqual([]);
});
