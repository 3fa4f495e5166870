import { describe, expect, test } from 'vitest';
import { axis, instantAt, moved, scale, stretches, postsPlaced, stretched } from './axis';

const at = (iso: string) => Date.parse(iso);
const labels = (a: ReturnType<typeof axis>) => a.hours.map((h) => h.wall.slice(11) + (h.again ? ' again' : ''));

// Source of every change of the clock: IANA time zone database, transitions of 2026.
describe('the wall clock along the axis', () => {
  test('a plain morning in London in June', () => {
    const a = axis(at('2026-06-12T07:43:00Z'), at('2026-06-12T10:02:00Z'), 'Europe/London');
    expect(labels(a)).toEqual(['09:00', '10:00', '11:00']);
    expect([a.from, a.to]).toEqual([at('2026-06-12T07:30:00Z'), at('2026-06-12T10:15:00Z')]);
    expect(a.changes).toEqual([]);
  });

  test('an hour that is left out is not there: London, 29 March', () => {
    const a = axis(at('2026-03-28T23:00:00Z'), at('2026-03-29T03:00:00Z'), 'Europe/London');
    expect(labels(a)).toEqual(['23:00', '00:00', '02:00', '03:00', '04:00']);
    expect(a.changes).toEqual([{ ms: at('2026-03-29T01:00:00Z'), minutes: 60, wall: '2026-03-29T02:00' }]);
  });

  test('an hour that comes twice stands twice: New York, 1 November', () => {
    const a = axis(at('2026-11-01T04:00:00Z'), at('2026-11-01T08:00:00Z'), 'America/New_York');
    expect(labels(a)).toEqual(['00:00', '01:00', '01:00 again', '02:00', '03:00']);
    expect(a.changes).toEqual([{ ms: at('2026-11-01T06:00:00Z'), minutes: -60, wall: '2026-11-01T01:00' }]);
  });

  test('half an hour twice: Lord Howe Island, 5 April', () => {
    const a = axis(at('2026-04-04T14:00:00Z'), at('2026-04-04T16:30:00Z'), 'Australia/Lord_Howe');
    expect(a.changes).toEqual([{ ms: at('2026-04-04T15:00:00Z'), minutes: -30, wall: '2026-04-05T01:30' }]);
    expect(labels(a)).toEqual(['01:00', '02:00', '03:00']);
  });

  test.each([
    ['Asia/Kolkata', '2026-06-12T03:30:00Z', '09:00'],
    ['Asia/Kathmandu', '2026-06-12T03:15:00Z', '09:00'],
    ['Pacific/Chatham', '2026-06-11T20:15:00Z', '09:00'],
  ])('hours of %s are whole by its own clock', (zone, instant, wall) => {
    const a = axis(at(instant), at(instant) + 3_600_000, zone);
    expect(a.hours[0]).toMatchObject({ ms: at(instant), wall: `2026-06-12T${wall}` });
    expect(a.hours).toHaveLength(2);
  });
});

test('places are by real time on the night of the change', () => {
  // 20:00 to 08:00 in New York on 7 March is eleven hours
  const a = axis(at('2026-03-08T01:00:00Z'), at('2026-03-08T12:00:00Z'), 'America/New_York');
  expect(a.hours[0]?.wall).toBe('2026-03-07T20:00');
  expect(a.hours[a.hours.length - 1]?.wall).toBe('2026-03-08T08:00');
  expect(a.hours).toHaveLength(12);
});

test('work over midnight stays together; an evening after hours of nothing stands alone', () => {
  const h = (n: number) => n * 3_600_000;
  const item = (start: number, end: number) => ({ start: h(start), end: h(end) });
  const list = stretches([item(8, 10), item(22.5, 23), item(9, 9.5), item(23, 25), item(12.5, 13)]);
  expect(list.map((s) => [s.from / h(1), s.to / h(1), s.items.length])).toEqual([
    [8, 13, 3],
    [22.5, 25, 2],
  ]);
});

test('everything fits unless something would be too small to read', () => {
  const item = (min: number) => ({ start: 0, end: min * 60_000 });
  expect(scale([item(60)], 0, 600_000 * 60, 600, 30, 8)).toBe(1);
  // five minutes in 30 px are 6 px to the minute
  expect(scale([item(5)], 0, 600_000 * 60, 600, 30, 8)).toBe(6);
  expect(scale([item(1)], 0, 600_000 * 60, 600, 30, 8)).toBe(8);
});

test('a move goes to the next five minutes, by the clock of the venue', () => {
  const ms = at('2026-06-12T07:43:20Z');
  expect(moved(ms, 1, 'Europe/London')).toBe('2026-06-12T08:45');
  expect(moved(ms, -1, 'Europe/London')).toBe('2026-06-12T08:40');
  expect(moved(at('2026-06-12T07:45:00Z'), -1, 'Europe/London')).toBe('2026-06-12T08:40');
  // over the missing hour
  expect(moved(at('2026-03-29T00:55:00Z'), 1, 'Europe/London')).toBe('2026-03-29T02:00');
});

test.each([
  // plain, the first of two, and a time that is left out, in zones on both sides of UTC
  ['2026-06-12T08:43', 'Europe/London', '2026-06-12T07:43:00Z'],
  ['2026-11-01T01:30', 'America/New_York', '2026-11-01T05:30:00Z'],
  ['2026-03-08T02:30', 'America/New_York', '2026-03-08T07:30:00Z'],
  ['2026-03-29T01:30', 'Europe/London', '2026-03-29T01:30:00Z'],
  ['2026-10-25T01:30', 'Europe/London', '2026-10-25T00:30:00Z'],
  ['2026-06-12T09:00', 'Asia/Kathmandu', '2026-06-12T03:15:00Z'],
])('%s in %s', (wall, zone, instant) => {
  expect(instantAt(wall, zone)).toBe(at(instant));
});

test('what is no time is no instant', () => {
  expect([instantAt('', 'Europe/London'), instantAt('soon', 'Europe/London'), instantAt('2026-06-12T09:00', 'Nowhere/Else')]).toEqual([null, null, null]);
});

describe('a clock on which everything can be touched', () => {
  const M = 60_000;
  const bar = (from: number, to: number) => ({ start: from * M, end: to * M });

  test('short work takes the least, long work its time; moments keep their order and come back from where they lie', () => {
    // a minute between two long ones, one of two minutes beside the first of them, a drive of three hours
    const items = [bar(0, 30), bar(30, 31), bar(31, 60), bar(10, 12), bar(60, 240)];
    const clock = stretched(items, 0, 270 * M, 2, 26);
    for (const i of items) expect(clock.at(i.end) - clock.at(i.start)).toBeGreaterThanOrEqual(26 - 1e-9);
    expect(clock.at(240 * M) - clock.at(60 * M)).toBeCloseTo(360);
    expect(clock.length).toBeCloseTo(270 * 2 + (26 - 2) + (26 - 4));
    let last = -Infinity;
    for (let m = -20; m <= 300; m += 0.5) {
      expect(clock.at(m * M)).toBeGreaterThan(last);
      last = clock.at(m * M);
      expect(clock.ms(last)).toBeCloseTo(m * M, 3);
    }
  });

  test('the words of posts that lie close stand one below the other, so the last ones need room past their line', () => {
    const at = (ms: number) => ms / M;
    expect(postsPlaced([{ ms: 0, word: 'a' }, { ms: 10 * M, word: 'b' }, { ms: 200 * M, word: 'c' }], at, 58).map((p) => p.shift)).toEqual([0, 48, 0]);
  });
});
