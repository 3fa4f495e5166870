// How this user reads the amounts of this job, and the figures of its tape.
import type { Job, Live, Plan, Private } from '../desk';
import type { Reading } from '../format/amount';
import { money } from '../format/money';
import { number } from '../format/number';
import { day, duration, timeOfDay, wallAt, weekday, type Clock } from '../format/time';
import { length, volume, type Units } from '../format/units';
import type { TapeFigure } from '../frame/tape';
import { t } from '../texts/t';
import { isLate, lateMin, leaveMs, running } from './today';

/** The day of a job as a wall time: when it must be ready, else when the venue lets the crew in; empty while not agreed. */
export const jobDay = (job: Job): string => job.times.ready_by || job.times.load_in || job.times.doors_open;

/** How amounts of a job are read. */
export function readingOf(job: Job, priv: Private | null, device: { units: Units; clock: Clock }): Reading {
  return {
    units: device.units,
    clock: device.clock,
    zone: job.venue.zone,
    day: jobDay(job),
    currency: priv?.prices.currency ?? '',
  };
}

/** The few figures that matter. What cannot be said yet is a dash; money is absent in a crew copy. The ids are the
 *  names by which the plan tells why. */
export function tapeFigures(plan: Plan, how: Reading, today: Live | null = null): TapeFigure[] {
  const f = plan.figures;
  const now = running(today);
  const asks = (id: string) => plan.why[id] !== undefined;
  const time = (id: 'start_by_ms' | 'leave_by_ms', word: 'start_by' | 'leave_by'): TapeFigure => {
    const wall = wallAt(f[id], how.zone);
    const elsewhere = wall !== '' && how.day !== '' && day(wall) !== day(how.day);
    return {
      id,
      figure: timeOfDay(wall, how.clock),
      unit: '',
      word: elsewhere ? t(`tape.${word}_day`, { day: weekday(wall) }) : t(`tape.${word}`),
      asks: asks(id),
    };
  };
  const price: TapeFigure[] =
    // before anything is planned there is no price, only what a working day costs anyhow
    f.price_cents === null || f.currency === null || plan.pieces.length === 0
      ? []
      : [{ id: 'price_cents', figure: money(f.price_cents, f.currency), unit: '', word: t('tape.price'), asks: asks('price_cents') }];
  return [
    { id: 'balloons', figure: number(f.balloons), unit: '', word: t('tape.balloons', { n: f.balloons }), asks: asks('balloons') },
    { id: 'garland_mm', ...length(f.garland_mm, how.units), word: t('tape.garland'), asks: asks('garland_mm') },
    ...(now ? told(plan, now, how) : [time('start_by_ms', 'start_by'), time('leave_by_ms', 'leave_by')]),
    { id: 'volume_ml', ...volume(f.volume_ml / 1000, how.units), word: t('tape.volume'), asks: asks('volume_ml') },
    ...price,
  ];
}

/** What the tape says of times while the day goes: when all will be ready, and when to leave if that is still to come. */
function told(plan: Plan, now: Live, how: Reading): TapeFigure[] {
  const time = (ms: number | null) => timeOfDay(wallAt(ms, how.zone), how.clock);
  const late = lateMin(now);
  const word = isLate(now) ? t('tape.ready_late', { by: duration(late) }) : late < 0 ? t('tape.ready_early', { by: duration(-late) }) : t('tape.ready_on_time');
  const leave = leaveMs(plan, now);
  const ready = { id: 'ready', figure: time(now.finish_ms), unit: '', word: now.finish_ms === null ? t('tape.ready_unknown') : word, asks: false };
  return [ready, ...(leave === null ? [] : [{ id: 'leave', figure: time(leave), unit: '', word: t('tape.leave_at'), asks: false }])];
}
