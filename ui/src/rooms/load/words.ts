// Sizes, masses and contents of parcels in words.
import type { Packed, Parcel } from '../../desk';
import { number } from '../../format/number';
import { length, opening, text, volume, type Measure, type Units } from '../../format/units';
import { t } from '../../texts/t';

/** "1.40 × 0.70 × 0.70 m"; in inches each with its own unit, as they have fractions. */
export function sizeWords(p: Pick<Parcel, 'length_mm' | 'width_mm' | 'height_mm'>, units: Units): string {
  const [a, b, c] = [p.length_mm, p.width_mm, p.height_mm].map((mm) => opening(mm, units)) as [Measure, Measure, Measure];
  const whole = (m: Measure) => (units === 'metric' ? m.figure : text(m));
  return t('load.measures', { a: whole(a), b: whole(b), c: text(c) });
}

/** A volume of mL as a figure with its unit. */
export const litres = (ml: number, units: Units) => volume(ml / 1000, units);

/** One line of what is in a parcel: "40 m ribbon", "3 × hooks". */
export function packedWords(p: Packed): string {
  if (p.count === 1 && p.unit === '') return p.what;
  return p.unit === '' ? `${number(p.count)} × ${p.what}` : t('load.item', { count: number(p.count), unit: p.unit, what: p.what });
}

/** What a parcel does not pass, and by how much; empty if it passes all. */
export function stuckWords(p: Parcel, units: Units): string {
  const stuck = p.stuck;
  if (!stuck) return p.stuck_at ? t('load.does_not_pass', { what: p.stuck_at }) : '';
  const side = stuck.side === 'width' || stuck.side === 'height' ? stuck.side : 'length';
  return t('load.too_much', { name: stuck.name, side: t(`load.side_${side}`), by: text(length(stuck.by_mm, units)) });
}
