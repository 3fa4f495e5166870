// The order of the list and the line of days: by hand against the calendar of 2026 and 2027.
import { describe, expect, test } from 'vitest';
import type { JobRow } from '../../desk';
import { daysFrom, daysPast, lengthOf, matches, monday, plus, sorted } from './days';

const row = (id: string, ready_by: string, more: Partial<JobRow> = {}): JobRow => ({
  id,
  name: id,
  occasion: '',
  stage: 'booked',
  venue: '',
  zone: 'Europe/London',
  ready_by,
  ready_by_ms: null,
  pieces: 1,
  ticked: 0,
  gone: false,
  apart: 0,
  changed_ms: 0,
  ...more,
});

describe('days', () => {
  test('a day later is the next one, over a month, a leap day and both changes of the clock', () => {
    expect(plus('2026-11-30', 1)).toBe('2026-12-01');
    expect(plus('2028-02-28', 1)).toBe('2028-02-29');
    expect(plus('2027-03-28', 1)).toBe('2027-03-29');
    expect(plus('2027-10-31', -1)).toBe('2027-10-30');
  });

  test('the week begins on Monday', () => {
    // 25 November 2026 is a Wednesday, 29 November a Sunday
    expect(monday('2026-11-25')).toBe('2026-11-23');
    expect(monday('2026-11-29')).toBe('2026-11-23');
    expect(monday('2026-11-23')).toBe('2026-11-23');
  });

  test('the line reaches to the last job, in whole weeks, and not for ever', () => {
    expect(lengthOf('2026-11-23', [])).toBe(28);
    expect(lengthOf('2026-11-23', [row('a', '2026-12-21T10:00')])).toBe(35);
    expect(lengthOf('2026-11-23', [row('a', '2199-01-01T10:00')])).toBe(182);
    expect(lengthOf('2026-11-23', [row('a', 'nonsense')])).toBe(28);
  });

  test('each day holds its jobs, but none that is put away', () => {
    const days = daysFrom('2026-11-23', '2026-11-25', [row('a', '2026-11-25T10:00'), row('b', '2026-11-25T20:00', { gone: true })], 28);
    expect(days.map((d) => d.jobs.length).reduce((a, b) => a + b)).toBe(1);
    expect(days[2]).toMatchObject({ date: '2026-11-25', number: 25, today: true });
    expect(days[2]?.jobs[0]?.id).toBe('a');
  });
});

describe('the list', () => {
  test('goes by day and hour; over, without a day and put away stand apart', () => {
    const list = sorted([
      row('late', '2026-12-02T18:00'),
      row('none', ''),
      row('early', '2026-12-02T09:00'),
      row('first', '2026-12-01T09:00'),
      row('done', '2026-10-01T09:00', { stage: 'done' }),
      row('away', '2026-12-03T09:00', { gone: true }),
      row('older', '2026-09-01T09:00', { stage: 'cancelled' }),
    ]);
    expect(list.ahead.map((d) => [d.date, ...d.rows.map((r) => r.id)])).toEqual([
      ['2026-12-01', 'first'],
      ['2026-12-02', 'early', 'late'],
    ]);
    expect(list.noDay.map((r) => r.id)).toEqual(['none']);
    expect(list.over.map((r) => r.id)).toEqual(['done', 'older']);
    expect(list.away.map((r) => r.id)).toEqual(['away']);
  });

  test('a job whose day is past is still open until it is set to done', () => {
    expect(daysPast(row('a', '2026-11-22T10:00'), '2026-11-25')).toBe(3);
    expect(daysPast(row('a', '2026-11-25T10:00'), '2026-11-25')).toBe(0);
    expect(daysPast(row('a', '2026-11-22T10:00', { stage: 'done' }), '2026-11-25')).toBe(0);
    expect(daysPast(row('a', ''), '2026-11-25')).toBe(0);
  });

  test('search takes every word, without accents or capitals, in name, occasion and venue', () => {
    const at = row('a', '', { name: 'Halloran and Reyes', occasion: 'Wedding', venue: 'Château Ellerwater' });
    expect(matches(at, 'wed hall')).toBe(true);
    expect(matches(at, 'chateau')).toBe(true);
    expect(matches(at, ' CHÂTEAU ')).toBe(true);
    expect(matches(at, 'wed hill')).toBe(false);
  });
});
