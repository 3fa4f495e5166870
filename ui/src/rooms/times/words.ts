// A task in words: what a reader says of its bar, and what its sheet says.
import type { Job, LiveTask } from '../../desk';
import { day, duration, timeOfDay, wallAt, type Clock } from '../../format/time';
import { t } from '../../texts/t';
import { placeOf, type Bar } from './lanes';

/** Names of those who do it. */
export function who(job: Job, bar: Bar): string {
  const names = bar.task.who.map((id) => job.crew[id]?.name || t('times.unnamed'));
  const last = names.pop();
  if (last === undefined) return t('times.nobody');
  return names.length > 0 ? t('times.and', { some: names.join(', '), last }) : last;
}

/** How far it may move, in a sentence; empty if it is not known. */
export function slackWords(job: Job, bar: Bar, clock: Clock): string {
  const { slack_s, early_ms, late_ms, pinned, phase } = bar.task;
  if (pinned) return t('times.is_pinned');
  if (slack_s === null || early_ms === null || late_ms === null) return '';
  if (slack_s < 60) return phase === 'strike' ? t('times.no_slack_strike') : t('times.no_slack');
  const zone = job.venue.zone;
  const at = (ms: number) => timeOfDay(wallAt(ms, zone), clock);
  const days = (ms: number) => wallAt(ms, zone).slice(0, 10);
  const said = (ms: number) => (days(ms) === days(bar.start) ? at(ms) : `${day(wallAt(ms, zone))}, ${at(ms)}`);
  const later = (late_ms - bar.start) / 60_000;
  return later >= 1 ? t('times.slip_later', { by: duration(slack_s / 60), late: said(late_ms) }) : t('times.slip_earlier', { by: duration(slack_s / 60), early: said(early_ms) });
}

/** All of it, for a reader. */
export function spoken(job: Job, bar: Bar, clock: Clock, live: LiveTask | null): string {
  const at = (ms: number) => timeOfDay(wallAt(ms, job.venue.zone), clock);
  const parts = [
    bar.task.title,
    t('times.from_to', { from: at(bar.start), to: at(bar.end) }),
    duration((bar.end - bar.start) / 60_000),
    who(job, bar),
    t(`times.place_${placeOf(bar.task)}`),
  ];
  if (live?.going === 'done') parts.push(t('times.done'));
  else if (live && live.late_s > 0) parts.push(t('times.late', { by: duration(live.late_s / 60) }));
  return `${parts.join(', ')}. ${slackWords(job, bar, clock)}`.trim();
}
