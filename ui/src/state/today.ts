// What every room says of a job on its day. Once work has begun, or should have, there is one answer, told from now: what was planned of
// the start is past.
import type { Finding, Live, Plan } from '../desk';
import { duration, timeOfDay, wallAt, type Clock } from '../format/time';
import { t } from '../texts/t';

/** Findings that speak of the times as they were planned. */
const PLANNED = ['load_in_too_late', 'no_time', 'pin_not_kept'];
/** Late by less than this is on time, s. */
const ON_TIME_S = 60;

/** The forecast, where it is what counts: work is going on. */
export const running = (day: Live | null): Live | null => (day?.running && !day.over ? day : null);

/** Later than agreed, so that somebody has to be told. */
export const isLate = (day: Live): boolean => (day.late_s ?? 0) >= ON_TIME_S || day.without.length > 0;

/** Whole minutes late, or to spare if negative, as the two clock times beside them differ: these leave their seconds out. */
export const wholeLate = (lateS: number): number => Math.floor(lateS / 60);

/** Minutes late, or to spare if negative. */
export const lateMin = (day: Live): number => wholeLate(day.late_s ?? 0);

/** When the vehicle leaves, as told now; null once it has left, or if nobody drives. */
export function leaveMs(plan: Plan, day: Live): number | null {
  const drives = new Set(plan.tasks.filter((x) => x.id.split('.')[0] === 'drive').map((x) => x.id));
  const first = day.tasks.find((x) => drives.has(x.task));
  return first?.going === 'to_come' ? first.start_ms : null;
}

/** The findings of a job while its day goes: those of the planned times step back, and how late it will be takes their place. */
export function findingsNow(findings: Finding[], day: Live | null, zone: string, clock: Clock): Finding[] {
  const now = running(day);
  if (!now) return findings;
  const rest = findings.filter((f) => !PLANNED.includes(f.code));
  if (!isLate(now)) return rest;
  const time = (ms: number | null) => timeOfDay(wallAt(ms, zone), clock);
  const message = now.without.length > 0 ? withoutWords(now) : t('live.late', { by: duration(lateMin(now)), time: time(now.finish_ms) });
  return [{ code: 'late_today', severity: 'stop', room: 'times', path: ['times', 'ready_by'], message, action: t('live.late_do'), fixes: [] }, ...rest];
}

/** Work that nobody is left for, in a sentence. */
export const withoutWords = (day: Live): string =>
  day.without.length === 1 ? t('mishap.without', { task: day.without[0] ?? '' }) : t('mishap.without_more', { task: day.without[0] ?? '', n: day.without.length - 1 });

/** The plan with its tasks at the times that are told now. How far they may move was planned, and is not known any more. */
export function toldNow(plan: Plan, day: Live): Plan {
  const told = new Map(day.tasks.map((x) => [x.task, x]));
  const tasks = plan.tasks.map((task) => {
    const now = told.get(task.id);
    return now && task.phase !== 'strike' ? { ...task, start_ms: now.start_ms, end_ms: now.end_ms, early_ms: null, late_ms: null, slack_s: null } : task;
  });
  tasks.sort((a, b) => (a.start_ms ?? Infinity) - (b.start_ms ?? Infinity));
  return { ...plan, tasks, figures: { ...plan.figures, start_by_ms: null, leave_by_ms: leaveMs(plan, day) } };
}

/** The day with nothing late but what is late by itself: what only waits for it says so once, there. */
export function causesOnly(day: Live): Live {
  const causes = new Set(day.causes.map((c) => c.task));
  return { ...day, tasks: day.tasks.map((x) => (causes.has(x.task) ? x : { ...x, late_s: 0, moves: false })) };
}
