// What a number field holds: how it is read, written and stepped, for each kind of quantity.
import { fraction, G_PER_POUND, length, MM_PER_FOOT, MM_PER_INCH, M_PER_MILE, type Units } from './units';
import { number } from './number';
import { NBSP } from './spaces';
import { decimals, symbol } from './money';

/** A kind of quantity. The stored value is always an integer of one unit, as the job document keeps it. */
export interface Quantity {
  /** Every way to understand the text, the likeliest first, as stored values; empty if it is no quantity. */
  read(text: string): number[];
  /** The figure, without the unit. */
  write(value: number): string;
  /** The word after the figure for this value. */
  unit(value: number): string;
  /** What one press of plus adds; a value between two steps goes to the next step. */
  step: number;
  /** The keys that a touch screen is to show: digits, digits with a decimal mark, or all. */
  keys: 'numeric' | 'decimal' | 'text';
}

const SIGNS: Record<string, number> = { '½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875, '⅓': 1 / 3, '⅔': 2 / 3 };

/** A count of things. `one` and `many` are the words after it; neither for a bare number. */
export function count(one = '', many = one, step = 1): Quantity {
  return {
    read: (text) => each(readNumber(stripped(text, [many, one])), Math.round),
    write: (value) => number(value),
    unit: (value) => (value === 1 ? one : many),
    step,
    keys: 'numeric',
  };
}

/** Percent, whole. */
export function percentage(step = 5): Quantity {
  return {
    read: (text) => each(readNumber(stripped(text, ['%', 'percent'])), Math.round),
    write: (value) => number(value),
    unit: () => '%',
    step,
    keys: 'numeric',
  };
}

/** A length, stored in mm. Reads "1.7 m", "170 cm", "170", "5 ft 6", 5'6", "66 in". A bare number is in the
 *  unit that is shown; where that cannot be, the field takes it as cm or in. */
export function lengths(units: Units): Quantity {
  return {
    read(text) {
      const said = readLength(text);
      if (said !== null) return [Math.round(said)];
      const bare = readNumber(text);
      if (bare === null) return [];
      const ways = units === 'metric' ? [bare * 1000, bare * 10] : [bare * MM_PER_FOOT, bare * MM_PER_INCH];
      return ways.map(Math.round);
    },
    write: (value) => length(value, units).figure,
    unit: (value) => length(value, units).unit,
    step: units === 'metric' ? 50 : MM_PER_INCH,
    keys: units === 'metric' ? 'decimal' : 'text',
  };
}

/** A diameter in inches to the half, stored in tenths of a millimetre: what a balloon is blown to. */
export function diameters(): Quantity {
  const perInch = MM_PER_INCH * 10;
  return {
    read(text) {
      const metric = /(mm|cm)\s*$/i.test(text) ? readLength(text) : null;
      if (metric !== null) return [Math.round(metric * 10)];
      return each(readNumber(stripped(text, ['in', 'inch', 'inches', '"', '″'])), (n) => Math.round(n * perInch));
    },
    write: (value) => fraction(Math.round((value / perInch) * 2) / 2),
    unit: () => 'in',
    step: perInch / 2,
    keys: 'decimal',
  };
}

/** Minutes, written as hours and minutes from an hour up. Reads "90", "1 h 30", "1:30", "1.5 h". */
export function minutes(step = 5): Quantity {
  return {
    read(text) {
      const m = /^(\d+)\s*(?:h|hr|hrs|hours?|:)\s*(\d{1,2})\s*(?:m|min|minutes?)?$/i.exec(tidy(text));
      if (m) return [Number(m[1]) * 60 + Number(m[2])];
      const hours = /^(.+?)\s*(?:h|hr|hrs|hours?)$/i.exec(tidy(text));
      if (hours) return each(readNumber(hours[1] ?? ''), (n) => Math.round(n * 60));
      return each(readNumber(stripped(text, ['min', 'minutes', 'minute', 'm'])), Math.round);
    },
    write: (value) => (value < 60 ? number(value) : hoursAndMinutes(value)),
    unit: (value) => (value < 60 ? 'min' : ''),
    step,
    keys: 'numeric',
  };
}

/** Seconds. */
export function secondsOf(step = 5): Quantity {
  return { ...count('s', 's', step), read: (text) => each(readNumber(stripped(text, ['s', 'sec', 'seconds'])), Math.round) };
}

/** Money, stored in cents, the smallest unit of the currency; decimals only where there are some. */
export function cents(currency: string, step = 100): Quantity {
  const sign = symbol(currency);
  const places = decimals(currency);
  const unit = 10 ** places;
  return {
    read: (text) => each(readNumber(stripped(text.replace(sign, ''), [currency.toLowerCase(), currency])), (n) => Math.round(n * unit)),
    write: (value) => (value % unit === 0 ? number(value / unit) : (value / unit).toFixed(places)),
    unit: () => sign,
    step,
    keys: places > 0 ? 'decimal' : 'numeric',
  };
}

/** A mass, stored in g; shown in kg or lb. */
export function masses(units: Units): Quantity {
  const per = units === 'metric' ? 1000 : G_PER_POUND;
  return {
    read(text) {
      const t = tidy(text);
      const unit = /(kg|g|lbs?)$/i.exec(t)?.[1]?.toLowerCase();
      const scale = unit === 'kg' ? 1000 : unit === 'g' ? 1 : unit ? G_PER_POUND : per;
      return each(readNumber(stripped(t, ['kg', 'g', 'lb', 'lbs'])), (n) => Math.round(n * scale));
    },
    write: (value) => number(value / per, 1),
    unit: () => (units === 'metric' ? 'kg' : 'lb'),
    step: per,
    keys: 'decimal',
  };
}

/** A way to drive, stored in tenths of a kilometre; shown in km or miles. */
export function distances(units: Units): Quantity {
  const per = units === 'metric' ? 10 : M_PER_MILE / 100;
  return {
    read(text) {
      const t = tidy(text);
      const scale = /km$/i.test(t) ? 10 : /(mi|miles?)$/i.test(t) ? M_PER_MILE / 100 : per;
      return each(readNumber(stripped(t, ['km', 'mi', 'mile', 'miles'])), (n) => Math.round(n * scale));
    },
    write: (value) => number(value / per, value / per < 10 ? 1 : 0),
    unit: () => (units === 'metric' ? 'km' : 'mi'),
    step: per,
    keys: 'decimal',
  };
}

/** A temperature, stored in tenths of a degree Celsius. */
export function temperatures(units: Units): Quantity {
  const fromF = (f: number) => Math.round(((f - 32) * 50) / 9);
  return {
    read(text) {
      const t = tidy(text);
      const bare = readNumber(stripped(t, ['°c', '°f', 'c', 'f', '°']));
      if (bare === null) return [];
      const fahrenheit = /f$/i.test(t) || (units === 'us' && !/c$/i.test(t));
      return [fahrenheit ? fromF(bare) : Math.round(bare * 10)];
    },
    write: (value) => (units === 'us' ? number((value / 10) * 1.8 + 32) : number(value / 10, 1)),
    unit: () => (units === 'us' ? '°F' : '°C'),
    step: units === 'us' ? 50 / 9 : 10,
    keys: 'text',
  };
}

/** The next step up (`by` 1) or down (-1) from a value, on the grid of the quantity's steps, as an integer. */
export function stepped(quantity: Quantity, value: number, by: 1 | -1): number {
  const at = value / quantity.step;
  const nearest = Math.round(at);
  // a stored integer may lie a rounding away from its step: that counts as standing on it
  const onStep = Math.abs(value - nearest * quantity.step) <= 0.5;
  const next = onStep ? nearest + by : by > 0 ? Math.ceil(at) : Math.floor(at);
  return Math.round(next * quantity.step);
}

/** A number as people write it: "170", "1.7", "1,7", "8½", "8 1/2", "1,180", "−3". Null if it is none. */
export function readNumber(text: string): number | null {
  let t = tidy(text).replace(/^−/, '-');
  const sign = t.startsWith('-') ? -1 : 1;
  t = t.replace(/^[-+]\s*/, '');
  const broken = /^(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)$/.exec(t);
  if (broken) {
    const below = Number(broken[3]);
    return below === 0 ? null : sign * (Number(broken[1] ?? 0) + Number(broken[2]) / below);
  }
  const last = t.at(-1) ?? '';
  const part = SIGNS[last];
  if (part !== undefined) {
    const whole = t.slice(0, -1).trim();
    return whole === '' ? sign * part : /^\d+$/.test(whole) ? sign * (Number(whole) + part) : null;
  }
  // groups of three, by comma or by space; anything else after one comma is a decimal comma
  const plain = /^\d{1,3}(?:,\d{3})+(?:\.\d+)?$/.test(t)
    ? t.replaceAll(',', '')
    : t.replace(/(\d)\s(?=\d{3}(?:\D|$))/g, '$1').replace(',', '.');
  if (!/^(?:\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) && value <= Number.MAX_SAFE_INTEGER ? sign * value : null;
}

/** A length with its unit in the text, mm; null where no unit is said. */
function readLength(text: string): number | null {
  const t = tidy(text).toLowerCase().replaceAll('’', "'").replaceAll('′', "'").replaceAll('″', '"').replaceAll('”', '"');
  const feet = /^(.+?)\s*(?:ft|feet|foot|')\s*(.*?)\s*(?:in|inch|inches|")?$/.exec(t);
  if (feet) {
    const whole = readNumber(feet[1] ?? '');
    const rest = feet[2] ? readNumber(feet[2]) : 0;
    return whole === null || rest === null ? null : whole * MM_PER_FOOT + rest * MM_PER_INCH;
  }
  // a comma before a unit of length is a decimal comma: nobody garlands 1,700 m
  const m = /^(.+?)\s*(mm|cm|m|metres?|meters?|in|inch|inches|")$/.exec(t);
  const value = m ? readNumber((m[1] ?? '').replace(/^(\d+),(\d+)$/, '$1.$2')) : null;
  if (!m || value === null) return null;
  const unit = m[2] ?? '';
  return value * (unit === 'mm' ? 1 : unit === 'cm' ? 10 : unit.startsWith('m') ? 1000 : MM_PER_INCH);
}

function hoursAndMinutes(value: number): string {
  const rest = value % 60;
  return `${number(Math.floor(value / 60))}${NBSP}h` + (rest ? `${NBSP}${String(rest).padStart(2, '0')}` : '');
}

const tidy = (text: string) => text.trim().replace(/[\u00a0\u202f\s]+/g, ' ');
const each = (value: number | null, to: (n: number) => number): number[] => (value === null ? [] : [to(value)]);

/** The text without its unit, the longest that fits. */
function stripped(text: string, units: string[]): string {
  const t = tidy(text);
  const unit = units
    .filter((u) => u && t.toLowerCase().endsWith(u.toLowerCase()))
    .sort((a, b) => b.length - a.length)[0];
  return unit ? t.slice(0, t.length - unit.length).trim() : t;
}
