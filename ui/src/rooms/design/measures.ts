// A form's measures as data: which field, in which quantity, from what to what.
import { count, diameters, lengths, masses, percentage, type Quantity } from '../../format/quantity';
import type { Units } from '../../format/units';
import { INCH_DMM } from './sizes';

/** What a measure is of. */
export type Measured = 'length' | 'diameter' | 'mass' | 'count' | 'percent' | 'inches' | 'degrees';

/** One field of a form. */
export interface Measure {
  /** its name in the record */
  field: string;
  label: string;
  of: Measured;
  /** as stored; where not given, what the quantity allows */
  min?: number;
  max?: number;
  note?: string;
}

/** Nothing that is hung or stood is longer, mm. A bare number past it is read as cm. */
export const LONGEST_MM = 100_000;

/** How a measure is read and written. */
export function quantityOf(of: Measured, units: Units): Quantity {
  switch (of) {
    case 'length':
      return lengths(units);
    case 'diameter':
      return diameters();
    case 'mass':
      return masses(units);
    case 'percent':
      return percentage(5);
    case 'inches':
      return count('in', 'in');
    case 'degrees':
      return count('°', '°', 15);
    case 'count':
      return count();
  }
}

/** The most of a quantity where a form says nothing else, as stored. */
export const MOST: Record<Measured, number> = {
  length: LONGEST_MM,
  diameter: 40 * INCH_DMM,
  mass: 2_000_000,
  count: 1000,
  percent: 100,
  inches: 40,
  degrees: 359,
};
