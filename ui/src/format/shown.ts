// A value as the backend tells it, a text or a number with its measure, in the reader's units.
import type { Shown } from '../desk';
import { t } from '../texts/t';
import { money } from './money';
import { number } from './number';
import { NBSP } from './spaces';
import { day, duration, minuteOfDay, seconds, timeOfDay, wallAt, type Clock } from './time';
import { blown, distance, length, mass, temperature, text, volume, type Units } from './units';

/** How a reader reads the values of one job. */
export interface ShownReading {
  units: Units;
  clock: Clock;
  /** zone of the venue, for instants */
  zone: string;
  /** ISO 4217 code; empty where money is not known */
  currency: string;
}

/** The value in words; nothing is said as such. */
export function shown(value: Shown, how: ShownReading): string {
  const n = value.n;
  const unit = (figure: string, word: string) => figure + NBSP + word;
  const wall = (at: string) => `${day(at)}, ${timeOfDay(at, how.clock)}`;
  switch (value.measure) {
    case 'text':
      return value.text === '' ? t('shown.nothing') : value.text;
    case 'wall':
      return wall(value.text);
    case 'instant':
      return wall(wallAt(n, how.zone));
    case 'of_day':
      return minuteOfDay(n, how.clock);
    case 'mm':
      return text(length(n, how.units));
    case 'dmm':
      return text(blown(n / 10));
    case 'inch':
      return unit(number(n), 'in');
    case 'cents':
      return money(n, how.currency);
    case 'percent':
      return unit(number(n), '%');
    case 'bp':
      return unit(number(n / 100, 2), '%');
    case 'permille':
      return unit(number(n / 10, 1), '%');
    case 'ms':
      return unit(number(n / 1000, 1), 's');
    case 's':
      return seconds(n);
    case 'min':
      return duration(n);
    case 'h':
      return unit(number(n), 'h');
    case 'days':
      return t('shown.days', { n });
    case 'g':
      return text(mass(n, how.units));
    case 'ml':
      return text(volume(n / 1000, how.units));
    case 'l_min':
      return unit(number(n), 'L/min');
    case 'mm_s':
      return unit(number(n / 1000, 1), 'm/s');
    case 's_m':
      return t('shown.per_metre', { time: seconds(n) });
    case 'dc':
      return text(temperature(n, how.units));
    case 'hm':
      return text(distance(n * 100, how.units));
    case 'deg':
      return `${number(n)}°`;
    case 'hundredths':
      return number(n / 100, 2);
    case 'px':
    case 'count':
      return number(n);
  }
}
