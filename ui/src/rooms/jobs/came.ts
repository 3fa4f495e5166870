// What a job file brings, in words: "14 ticks, 3 photos, 1 change of time and 2 notes".
import type { CameIn, Change, Home } from '../../desk';
import { shown, type ShownReading } from '../../format/shown';
import { duration, timeOfDay } from '../../format/time';
import { t } from '../../texts/t';

type Area = Change['area'];
const AREAS: Area[] = ['times', 'pieces', 'stock', 'venue', 'way', 'people', 'kit', 'price', 'bills', 'client', 'rates', 'job', 'kept', 'site'];

/** Parts of a sentence, the last one after "and". */
export function listed(parts: string[]): string {
  const last = parts.at(-1) ?? '';
  return parts.length < 2 ? last : t('came.and', { list: parts.slice(0, -1).join(', '), last });
}

/** Everything that is new, each with its number; nothing for what is not. */
export function news(came: Pick<CameIn, 'ticks' | 'photos' | 'notes' | 'changes'>): string {
  const counted = (['ticks', 'photos', 'notes'] as const).filter((k) => came[k] > 0).map((k) => t(`came.${k}`, { n: came[k] }));
  const areas = AREAS.map((area) => ({ area, n: came.changes.filter((c) => c.area === area).length })).filter(({ n }) => n > 0);
  return listed([...counted, ...areas.map(({ area, n }) => t(`came.area_${area}`, { n }))]);
}

/** What the other device lacks; empty if nothing. */
export function lacks(home: Home): string {
  const counted = (['ticks', 'photos', 'notes'] as const).filter((k) => home[k] > 0).map((k) => t(`came.${k}`, { n: home[k] }));
  if (home.changes > 0) counted.push(t('came.home_changes', { n: home.changes }));
  return listed(counted);
}

/** What became of one thing. */
export function became(change: Change, how: ShownReading): string {
  if (change.kind !== 'set') return t(`came.${change.kind}`);
  const { before, after } = change;
  // of two times on one day the day would only be said twice
  if (before.measure === 'wall' && after.measure === 'wall' && before.text.slice(0, 10) === after.text.slice(0, 10)) {
    return t('came.set', { before: timeOfDay(before.text, how.clock), after: timeOfDay(after.text, how.clock) });
  }
  return t('came.set', { before: shown(before, how), after: shown(after, how) });
}

/** How far a clock is off: days from two days on, else hours and minutes. */
export function clockOff(seconds: number): string {
  const days = Math.round(seconds / 86_400);
  return days >= 2 ? t('shown.days', { n: days }) : duration(seconds / 60);
}
