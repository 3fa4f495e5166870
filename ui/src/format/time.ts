import { NBSP } from './spaces';

/** How a person reads times of day. */
export type Clock = '24h' | '12h';

const WALL = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2}))?/;
const MINUTES_PER_DAY = 1440;

/** A duration from minutes: "7 min", "1 h 16", "14 h". Never a decimal. */
export function duration(minutes: number): string {
  if (!Number.isFinite(minutes)) return '–';
  const all = Math.round(Math.abs(minutes));
  const sign = minutes < 0 && all > 0 ? '−' : '';
  if (all < 60) return `${sign}${all}${NBSP}min`;
  const rest = all % 60;
  const hours = `${sign}${Math.floor(all / 60)}${NBSP}h`;
  return rest === 0 ? hours : `${hours}${NBSP}${String(rest).padStart(2, '0')}`;
}

/** A short duration from seconds: "45 s", "2 min 30", from ten minutes on as `duration`. */
export function seconds(value: number): string {
  if (!Number.isFinite(value)) return '–';
  const all = Math.round(Math.abs(value));
  if (all < 60) return `${value < 0 && all > 0 ? '−' : ''}${all}${NBSP}s`;
  if (all >= 600 || all % 60 === 0) return duration(value / 60);
  return `${value < 0 ? '−' : ''}${Math.floor(all / 60)}${NBSP}min${NBSP}${String(all % 60).padStart(2, '0')}`;
}

/** Minutes since midnight as a time of day: "09:30" or "9:30 am". Past midnight it begins again at 0. */
export function minuteOfDay(minutes: number, clock: Clock): string {
  if (!Number.isFinite(minutes)) return '–';
  const at = ((Math.round(minutes) % MINUTES_PER_DAY) + MINUTES_PER_DAY) % MINUTES_PER_DAY;
  const hour = Math.floor(at / 60);
  const minute = String(at % 60).padStart(2, '0');
  if (clock === '24h') return `${String(hour).padStart(2, '0')}:${minute}`;
  return `${hour % 12 === 0 ? 12 : hour % 12}:${minute}${NBSP}${hour < 12 ? 'am' : 'pm'}`;
}

/** The time of day of a wall time `YYYY-MM-DDTHH:MM`, or a dash. */
export function timeOfDay(wall: string, clock: Clock): string {
  const m = WALL.exec(wall);
  return m?.[4] === undefined ? '–' : minuteOfDay(Number(m[4]) * 60 + Number(m[5]), clock);
}

/** A day from a wall time: "Sat 12 June", with its year when `year`. */
export function day(wall: string, year = false): string {
  const at = midnight(wall);
  return at === null ? '–' : dayFormat(year).format(at).replace(',', '');
}

/** The weekday alone: "Sat". */
export function weekday(wall: string): string {
  const at = midnight(wall);
  return at === null ? '–' : new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(at);
}

/** The month alone: "Jun", or the whole word. */
export function month(wall: string, whole = false): string {
  const at = midnight(wall);
  return at === null ? '–' : new Intl.DateTimeFormat('en-GB', { month: whole ? 'long' : 'short', timeZone: 'UTC' }).format(at);
}

/** A wall time seen from a day: the time alone on that day, else with the weekday before it ("Sun 10:00"),
 *  or the whole date when it is six days off or more. */
export function timeFrom(wall: string, from: string, clock: Clock): string {
  const at = midnight(wall);
  const base = midnight(from);
  const time = timeOfDay(wall, clock);
  if (at === null || base === null || at === base) return time;
  const near = Math.abs(at - base) < 6 * 86_400_000;
  return `${near ? weekday(wall) : day(wall)}${near ? NBSP : ' '}${time}`;
}

/** Whole days from one wall day to another; null when either cannot be read. */
export function daysBetween(from: string, to: string): number | null {
  const a = midnight(from);
  const b = midnight(to);
  return a === null || b === null ? null : Math.round((b - a) / 86_400_000);
}

/** A wall time `YYYY-MM-DDTHH:MM` as this device's clock shows it. */
export function wallNow(now: Date): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}T${two(now.getHours())}:${two(now.getMinutes())}`;
}

/** Midnight of a wall day as if it were UTC, so that no zone of the device can shift it; null if it is no day. */
function midnight(wall: string): number | null {
  const m = WALL.exec(wall);
  if (!m) return null;
  const [year, month, date] = [Number(m[1]), Number(m[2]), Number(m[3])];
  const at = new Date(Date.UTC(year, month - 1, date));
  return at.getUTCMonth() === month - 1 && at.getUTCDate() === date ? at.getTime() : null;
}

function dayFormat(year: boolean): Intl.DateTimeFormat {
  return new Intl.DateTimeFormat('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'long',
    timeZone: 'UTC',
    ...(year ? { year: 'numeric' } : {}),
  });
}

/** An instant, ms since 1970 UTC, as the wall time `YYYY-MM-DDTHH:MM` of a zone; empty for none, or an unknown zone. */
export function wallAt(ms: number | null | undefined, zone: string): string {
  if (ms === null || ms === undefined || !Number.isFinite(ms)) return '';
  try {
    const parts = new Intl.DateTimeFormat('en-GB', {
      timeZone: zone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    }).formatToParts(ms);
    const part = (type: Intl.DateTimeFormatPartTypes) => parts.find((p) => p.type === type)?.value ?? '';
    return `${part('year').padStart(4, '0')}-${part('month')}-${part('day')}T${part('hour')}:${part('minute')}`;
  } catch {
    return ''; // the zone is not known here: the plan's findings say so
  }
}
