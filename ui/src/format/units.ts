import { fixed, number } from './number';
import { NBSP } from './spaces';

/** Which units a person reads lengths, volumes and masses in. Sizes of balloons are in inches for everybody. */
export type Units = 'metric' | 'us';

/** A figure and its unit, so that the unit can be set smaller. */
export interface Measure {
  figure: string;
  unit: string;
}

export const MM_PER_INCH = 25.4; // exact: international yard and pound agreement of 1959
export const MM_PER_FOOT = 304.8; // exact, the same
export const M_PER_MILE = 1609.344; // exact, the same
export const G_PER_POUND = 453.59237; // exact, the same
const L_PER_CUBIC_FOOT = 28.316846592; // exact: 0.3048³ m³
const FRACTIONS: Record<number, string> = { 0.25: '¼', 0.5: '½', 0.75: '¾' };

/** A measure as one piece of text. */
export const text = (m: Measure): string => (m.unit ? m.figure + NBSP + m.unit : m.figure);

/** A length in m to the centimetre, or in feet and half inches: "5.4 m", "17 ft 8½ in". */
export function length(mm: number, units: Units): Measure {
  if (!Number.isFinite(mm)) return { figure: '–', unit: '' };
  if (units === 'metric') return { figure: number(mm / 1000, 2), unit: 'm' };
  const halves = Math.round(Math.abs(mm) / (MM_PER_INCH / 2));
  const feet = Math.floor(halves / 24);
  const inches = (halves % 24) / 2;
  const sign = mm < 0 && halves > 0 ? '−' : '';
  if (feet === 0) return { figure: sign + fraction(inches), unit: 'in' };
  if (inches === 0) return { figure: sign + number(feet), unit: 'ft' };
  return { figure: `${sign}${number(feet)}${NBSP}ft${NBSP}${fraction(inches)}`, unit: 'in' };
}

/** A length to the millimetre for an opening or a gap: "0.92 m", "36¼ in". Always two places in metres. */
export function opening(mm: number, units: Units): Measure {
  if (units === 'metric') return { figure: fixed(mm / 1000, 2), unit: 'm' };
  return { figure: fraction(Math.round(mm / (MM_PER_INCH / 4)) / 4), unit: 'in' };
}

/** What a balloon is blown to, in inches to the half: "8½ in". */
export function blown(mm: number): Measure {
  return { figure: fraction(Math.round(mm / (MM_PER_INCH / 2)) / 2), unit: 'in' };
}

/** A volume of air or load: "3.2 m³", "113 ft³"; small ones in litres. */
export function volume(litres: number, units: Units): Measure {
  if (units === 'us') {
    const feet = litres / L_PER_CUBIC_FOOT;
    return { figure: number(feet, feet < 10 ? 1 : 0), unit: 'ft³' };
  }
  if (litres < 100) return { figure: number(litres, litres < 10 ? 1 : 0), unit: 'L' };
  return { figure: number(litres / 1000, 1), unit: 'm³' };
}

/** A mass: "40 kg", "88 lb". */
export function mass(grams: number, units: Units): Measure {
  if (units === 'us') return { figure: number(grams / G_PER_POUND, grams < 4500 ? 1 : 0), unit: 'lb' };
  return grams < 1000 ? { figure: number(grams), unit: 'g' } : { figure: number(grams / 1000, 1), unit: 'kg' };
}

/** A way to drive, from metres: "41 km", "25 mi". */
export function distance(metres: number, units: Units): Measure {
  const far = units === 'us' ? metres / M_PER_MILE : metres / 1000;
  return { figure: number(far, far < 10 ? 1 : 0), unit: units === 'us' ? 'mi' : 'km' };
}

/** A temperature, from tenths of a degree Celsius: "21 °C", "70 °F". */
export function temperature(tenths: number, units: Units): Measure {
  const celsius = tenths / 10;
  return units === 'us'
    ? { figure: number((celsius * 9) / 5 + 32), unit: '°F' }
    : { figure: number(celsius, 1), unit: '°C' };
}

/** A number with its quarters as a sign where it has one: 8.5 is "8½", 0.5 is "½". */
export function fraction(value: number): string {
  const whole = Math.trunc(Math.abs(value));
  const sign = value < 0 ? '−' : '';
  const part = FRACTIONS[Math.round((Math.abs(value) - whole) * 100) / 100];
  if (part === undefined) return number(value, 2);
  return sign + (whole > 0 ? number(whole) : '') + part;
}
