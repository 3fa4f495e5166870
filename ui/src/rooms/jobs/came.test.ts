import { expect, test } from 'vitest';
import type { Change, Shown } from '../../desk';
import { shown } from '../../format/shown';
import { became, clockOff, lacks, news } from './came';

const how = { units: 'metric', clock: '24h', zone: 'Europe/London', currency: 'EUR' } as const;
const text = (words: string): Shown => ({ measure: 'text', n: 0, text: words });
const of = (measure: Shown['measure'], n: number): Shown => ({ measure, n, text: '' });
const change = (some: Partial<Change>): Change => ({ what: 'Ready by', kind: 'set', area: 'times', before: text(''), after: text(''), ...some });
const plain = (words: string) => words.replace(/[\u00a0\u202f]/g, ' ');

test('what came in is counted in words', () => {
  const came = { ticks: 14, photos: 3, notes: 2, changes: [change({})] };
  expect(news(came)).toBe('14 ticks, 3 photos, 2 notes and 1 change of time');
  expect(news({ ticks: 1, photos: 0, notes: 0, changes: [] })).toBe('1 tick');
  expect(news({ ticks: 0, photos: 0, notes: 0, changes: [change({ area: 'pieces' }), change({ area: 'pieces' }), change({ area: 'price' })] })).toBe(
    '2 changes to the pieces and 1 change of price',
  );
  expect(news({ ticks: 0, photos: 0, notes: 0, changes: [] })).toBe('');
  expect(lacks({ ticks: 2, photos: 0, notes: 1, changes: 3 })).toBe('2 ticks, 1 note and 3 changes');
});

test('what became of a thing is said with its units', () => {
  const said = (some: Partial<Change>) => plain(became(change(some), how));
  expect(said({ before: of('mm', 3200), after: of('mm', 2900) })).toBe('3.2 m → 2.9 m');
  expect(said({ before: of('bp', 2000), after: of('bp', 825) })).toBe('20 % → 8.25 %');
  expect(said({ before: text(''), after: text('Porter') })).toBe('nothing → Porter');
  const wall = (at: string): Shown => ({ measure: 'wall', n: 0, text: at });
  expect(said({ before: wall('2027-06-12T13:30'), after: wall('2027-06-12T13:15') })).toBe('13:30 → 13:15');
  expect(said({ before: wall('2027-06-12T13:30'), after: wall('2027-06-13T09:00') })).toBe('Sat 12 June, 13:30 → Sun 13 June, 09:00');
  expect(said({ kind: 'removed' })).toBe('taken away');
  expect(plain(became(change({ before: of('mm', 3048), after: of('of_day', 570) }), { ...how, units: 'us', clock: '12h' }))).toBe('10 ft → 9:30 am');
});

test('every measure is written with what it measures', () => {
  const said = (measure: Shown['measure'], n: number) => plain(shown(of(measure, n), how));
  expect(said('dmm', 2286)).toBe('9 in');
  expect(said('cents', 3250)).toContain('32.5');
  expect(said('mm_s', 1200)).toBe('1.2 m/s');
  expect(said('s_m', 360)).toBe('6 min a metre');
  expect(said('dc', 215)).toBe('21.5 °C');
  expect(said('hm', 410)).toBe('41 km');
  expect(said('hundredths', 150)).toBe('1.5');
  expect(plain(shown({ measure: 'wall', n: 0, text: '2027-06-12T14:00' }, how))).toBe('Sat 12 June, 14:00');
});

test('a clock is days off, or hours', () => {
  expect(clockOff(3 * 86_400)).toBe('3 days');
  expect(plain(clockOff(3600))).toBe('1 h');
});
