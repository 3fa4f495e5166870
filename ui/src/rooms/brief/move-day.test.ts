// The whole job on another day. Days counted by hand on the calendar; clocks in London go back on 25 October 2026, forward on 28 March 2027.
import { describe, expect, test } from 'vitest';
import type { Job } from '../../desk';
import { dayOf, moveEdits } from './move-day';

const times = { load_in: '2026-10-24T10:00', ready_by: '2026-10-24T16:00', early_min: 15, doors_open: '', strike_from: '2026-10-24T22:55', strike_by: '2026-10-25T01:00' };
const pin = (at: string, gone = false) => ({ task: 'carry', at, order: '', gone });
const job = (pins: Job['pins'] = {}) => ({ times, pins }) as Pick<Job, 'times' | 'pins'>;
const moved = (days: number, pins?: Job['pins']) =>
  moveEdits(job(pins), days).map((e) => (e.op === 'set' ? [e.path.join('.'), e.value] : e));

describe('the whole job moves', () => {
  test('all its times in one go, over a change of the clock at the same time of day', () => {
    expect(moved(7)).toEqual([
      ['times.load_in', '2026-10-31T10:00'],
      ['times.ready_by', '2026-10-31T16:00'],
      ['times.strike_from', '2026-10-31T22:55'],
      ['times.strike_by', '2026-11-01T01:00'],
    ]);
    expect(moved(-55)[0]).toEqual(['times.load_in', '2026-08-30T10:00']);
  });

  test('pins go along, but none that was taken off', () => {
    expect(moved(156, { a: pin('2026-10-23T17:30'), b: pin('2026-10-24T09:00', true) }).slice(4)).toEqual([['pins.a.at', '2027-03-28T17:30']]);
  });

  test('to the same day changes nothing, and what cannot be read stays', () => {
    expect(moved(0)).toEqual([]);
    expect(moveEdits({ times: { ...times, ready_by: 'soon', load_in: '2026-99-99T10:00' }, pins: {} }, 1).map((e) => (e.op === 'set' ? e.path[1] : ''))).toEqual(['strike_from', 'strike_by']);
  });

  test('the day is that of ready-by, else the first that is agreed', () => {
    expect(dayOf(job())).toBe('2026-10-24');
    expect(dayOf({ times: { ...times, ready_by: '', load_in: '' } })).toBe('2026-10-24');
    expect(dayOf({ times: { ...times, ready_by: '', load_in: '', strike_from: '', strike_by: '' } })).toBe('');
  });
});
