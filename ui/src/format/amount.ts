// A total or a term of the plan as text, by the unit that the plan names.
import { money } from './money';
import { number } from './number';
import { NBSP } from './spaces';
import { duration, timeFrom, wallAt, type Clock } from './time';
import { length, text, volume, type Units } from './units';

/** How this user and this job read amounts. */
export interface Reading {
  units: Units;
  clock: Clock;
  /** IANA zone of the venue */
  zone: string;
  /** the day that needs no weekday beside its times, as a wall time */
  day: string;
  /** ISO 4217 */
  currency: string;
}

/** An amount in a unit of the plan: `balloons`, `mm`, `ml`, `s`, `cents`, `ms`; any other unit stands after the number. */
export function amount(value: number, unit: string, how: Reading): string {
  switch (unit) {
    case 'balloons':
    case '':
      return number(value);
    case 'mm':
      return text(length(value, how.units));
    case 'ml':
      return text(volume(value / 1000, how.units));
    case 's':
      return value > -60 && value < 60 && value !== 0 ? `${number(value)}${NBSP}s` : duration(value / 60);
    case 'cents':
      return money(value, how.currency, true);
    case 'ms':
      return timeFrom(wallAt(value, how.zone), how.day, how.clock);
    default:
      return `${number(value)} ${unit}`;
  }
}
