// Double bookings and short rests in words: one line for each pair of jobs, the same in Jobs, in Times and in the findings of a job.
import type { Finding, JobRow } from '../../desk';
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
  /** everybody's own, the shortest first */
  all: Rest[];
}

const KINDS: readonly Booked['kind'][] = ['person', 'vehicle', 'kit'];
/** So many names are said of what two jobs want; with one left over it is said too. */
const NAMED = 4;

/** Stages in which a job may still come to nothing: what it wants is not taken yet. */
const MAY_BE = ['enquiry', 'quoted'];

/** The other one of the two jobs than `here`. */
export const otherOf = ({ one, other }: { one: JobRow; other: JobRow }, here: string): JobRow => (one.id === here ? other : one);

export const called = (name: string) => name || t('frame.unnamed');

/** "Ada, Ben and Cleo". */
export function listed(names: string[]): string {
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
    if (same) same.all.push(rest);
    else list.push({ key, rest, all: [rest] });
  }
  for (const short of list) short.all.sort((a, b) => pause(a) - pause(b));
  return list;
}

/** Two jobs that are both taken cannot be done as planned; one that is only asked for is still to be decided. */
export const grave = ({ all }: Pair): 'stop' | 'care' => (all.some((b) => [b.one, b.other].some((job) => MAY_BE.includes(job.stage))) ? 'care' : 'stop');

/** Ids of the jobs that cannot be done as planned. */
export const impossible = (found: readonly Booked[]): ReadonlySet<string> =>
  new Set(pairs(found).filter((p) => grave(p) === 'stop').flatMap(({ all }) => all.flatMap((b) => [b.one.id, b.other.id])));

/** Who and what the open job cannot have, in one sentence over all other jobs; empty if nothing. */
export function taken(found: readonly Booked[], here: string, clock: Clock): string {
  const all = pairs(found).filter((p) => grave(p) === 'stop').flatMap((p) => p.all);
  const others = new Map(all.map((b) => otherOf(b, here)).map((job) => [job.id, called(job.name)]));
  return all.length === 0 ? '' : t('clash.here', { ...wanted(all), when: when(all, clock), other: listed([...others.values()]) });
}

const pause = (rest: Rest) => Math.max(0, rest.to_ms - rest.from_ms) / 60_000;
/** People first, then the vehicle, then things; of many so many are named. */
function wanted(all: readonly Booked[]): { what: string } {
  const names = [...new Set([...all].sort((a, b) => KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind)).map((b) => b.name))];
  const some = names.slice(0, NAMED);
  return { what: listed(names.length > NAMED + 1 ? [...some, t('clash.more', { n: names.length - NAMED })] : names) };
}
function when(all: readonly Booked[], clock: Clock): string {
  const wall = wallAt(Math.min(...all.map((b) => b.from_ms)), all[0]?.one.zone ?? '');
  return `${day(wall)}, ${timeOfDay(wall, clock)}`;
}

/** `here` is the job that is open: the other one is named. Empty names both. */
export function booked({ all }: Pair, here: string, clock: Clock): string {
  const first = all[0] as Booked;
  const what = { ...wanted(all), when: when(all, clock) };
  const other = otherOf(first, here);
  const [one, two] = [called(first.one.name), called(first.other.name)];
  if (here !== '') return t('clash.here', { ...what, other: called(other.name) });
  return one === two ? t('clash.alike', { ...what, one }) : t('clash.both', { ...what, one, other: two });
}

export function tired({ rest, all }: Short): string {
  const jobs = { who: listed(all.map((r) => r.name)), one: called(rest.one.name), other: called(rest.other.name) };
  if (rest.rule !== 'daily') return t(`clash.rest_${rest.rule}`, jobs);
  const pauses = all.map((r) => duration(pause(r)));
  if (new Set(pauses).size === 1) return t('clash.rest_daily', { ...jobs, pause: pauses[0] ?? '' });
  return t('clash.rest_daily_each', { ...jobs, who: listed(all.map((r, i) => t('clash.rest_of', { name: r.name, pause: pauses[i] ?? '' }))) });
}

/** As findings of the job that is open. */
export function clashFindings(found: readonly Booked[], rests: readonly Rest[], here: string, clock: Clock): Finding[] {
  const finding = (code: string, severity: Finding['severity'], message: string, action: string): Finding => ({ code, severity, room: 'times', path: ['crew'], message, action, fixes: [] });
  return [...pairs(found).map((p) => finding('clash', grave(p), booked(p, here, clock), t('clash.do'))), ...shorts(rests).map((s) => finding('clash_rest', 'care', tired(s), t('clash.rest_do')))];
}
