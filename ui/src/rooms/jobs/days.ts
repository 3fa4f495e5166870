// The days ahead as a line with knots, and the list in the order of its days.
import type { JobRow } from '../../desk';
import { daysBetween } from '../../format/time';

/** Stages in which a job is no longer ahead. */
const OVER = ['done', 'closed', 'cancelled', 'postponed'];
/** Days that the line has at least, and at most. */
const LEAST_DAYS = 28;
const MOST_DAYS = 182;

/** A day of the line. */
export interface Day {
  /** `YYYY-MM-DD` */
  date: string;
  /** number in the month */
  number: number;
  today: boolean;
  jobs: JobRow[];
}

/** The jobs by where they stand: ahead with a day (the next first), ahead without one, over, put away. */
export interface Sorted {
  /** jobs of one day together */
  ahead: { date: string; rows: JobRow[] }[];
  noDay: JobRow[];
  over: JobRow[];
  away: JobRow[];
}

/** A day that lies `by` days after another. */
export function plus(date: string, by: number): string {
  const at = new Date(`${date}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + by);
  return at.toISOString().slice(0, 10);
}

/** The Monday of a day's week. */
export function monday(date: string): string {
  return plus(date, -((new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7));
}

/** How many days the line has: whole weeks, to the last job and at most half a year. */
export function lengthOf(first: string, rows: readonly JobRow[]): number {
  const last = Math.max(0, ...rows.map((r) => daysBetween(first, r.ready_by) ?? 0));
  return Math.min(MOST_DAYS, Math.max(LEAST_DAYS, Math.ceil((last + 1) / 7) * 7));
}

/** So many days from a day, with the jobs of each. */
export function daysFrom(first: string, today: string, rows: readonly JobRow[], length: number): Day[] {
  return Array.from({ length }, (_, i) => {
    const date = plus(first, i);
    return {
      date,
      number: Number(date.slice(8)),
      today: date === today,
      jobs: rows.filter((r) => !r.gone && r.ready_by.slice(0, 10) === date),
    };
  });
}

/** Whether a job is still to be done. */
export const isAhead = (row: JobRow) => !row.gone && !OVER.includes(row.stage);

/** Days since a job that is still open; 0 while it lies ahead. */
export function daysPast(row: JobRow, today: string): number {
  return isAhead(row) && row.ready_by !== '' ? Math.max(0, daysBetween(row.ready_by, today) ?? 0) : 0;
}

/** Whether a job has what was searched for in its name, occasion or venue. */
export function matches(row: JobRow, words: string): boolean {
  const text = plain(`${row.name} ${row.occasion} ${row.venue}`);
  return plain(words)
    .split(/\s+/)
    .every((word) => text.includes(word));
}

/** The rows by where they stand. */
export function sorted(rows: readonly JobRow[]): Sorted {
  const ahead: Sorted['ahead'] = [];
  const days = rows.filter((r) => isAhead(r) && r.ready_by !== '').sort((a, b) => compare(a.ready_by, b.ready_by));
  for (const row of days) {
    const date = row.ready_by.slice(0, 10);
    const last = ahead[ahead.length - 1];
    if (last?.date === date) last.rows.push(row);
    else ahead.push({ date, rows: [row] });
  }
  return {
    ahead,
    noDay: rows.filter((r) => isAhead(r) && r.ready_by === ''),
    over: rows.filter((r) => !r.gone && !isAhead(r)).sort((a, b) => compare(b.ready_by, a.ready_by)),
    away: rows.filter((r) => r.gone),
  };
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
/** Without accents and capitals, so that "Chateau" finds "Château". */
const plain = (text: string) =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase();
