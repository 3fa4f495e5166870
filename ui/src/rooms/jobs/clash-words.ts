// Double bookings and short rests in words: one line for each pair of jobs, the same in Jobs, in Times and in the findings of a job.
import type { Finding } from '../../desk';
import { day, duration, timeOfDay, wallAt, type Clock } from '../../format/time';
import { t } from '../../texts/t';
import type { Booked, Rest } from './together.svelte';

/** What two jobs want at once. */
export interface Pair {
  key: string;
  all: Booked[];
}

/** Whom two jobs leave too little rest, by one rule. */
export interface Short {
  key: string;
  rest: Rest;
  who: string[];
}

export const called = (name: string) => name || t('frame.unnamed');

function listed(names: string[]): string {
  const list = [...names];
  const last = list.pop() ?? '';
  return list.length > 0 ? t('times.and', { some: list.join(', '), last }) : last;
}

export function pairs(found: readonly Booked[]): Pair[] {
  const list: Pair[] = [];
  for (const b of found) {
    const key = `${b.one.id} ${b.other.id}`;
    const pair = list.find((p) => p.key === key);
    if (pair) pair.all.push(b);
    else list.push({ key, all: [b] });
  }
  return list;
}

export function shorts(rests: readonly Rest[]): Short[] {
  const list: Short[] = [];
  for (const rest of rests) {
    const key = `${rest.rule} ${rest.one.id} ${rest.other.id}`;
    const same = list.find((l) => l.key === key);
    if (same) same.who.push(rest.name);
    else list.push({ key, rest, who: [rest.name] });
  }
  return list;
}

/** `here` is the job that is open: the other one is named. Empty names both. */
export function booked({ all }: Pair, here: string, clock: Clock): string {
  const first = all[0] as Booked;
  const wall = wallAt(Math.min(...all.map((b) => b.from_ms)), first.one.zone);
  const what = { what: listed([...new Set(all.map((b) => b.name))]), when: `${day(wall)}, ${timeOfDay(wall, clock)}` };
  const other = first.one.id === here ? first.other : first.one;
  return here === '' ? t('clash.both', { ...what, one: called(first.one.name), other: called(first.other.name) }) : t('clash.here', { ...what, other: called(other.name) });
}

export function tired({ rest, who }: Short): string {
  const jobs = { who: listed(who), one: called(rest.one.name), other: called(rest.other.name) };
  return rest.rule === 'daily' ? t('clash.rest_daily', { ...jobs, pause: duration(Math.max(0, rest.to_ms - rest.from_ms) / 60_000) }) : t(`clash.rest_${rest.rule}`, jobs);
}

/** As findings of the job that is open. */
export function clashFindings(found: readonly Booked[], rests: readonly Rest[], here: string, clock: Clock): Finding[] {
  const finding = (code: string, message: string, action: string): Finding => ({ code, severity: 'care', room: 'times', path: ['crew'], message, action, fixes: [] });
  return [...pairs(found).map((p) => finding('clash', booked(p, here, clock), t('clash.do'))), ...shorts(rests).map((s) => finding('clash_rest', tired(s), t('clash.rest_do')))];
}
