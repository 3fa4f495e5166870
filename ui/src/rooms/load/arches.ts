// Wheel arches to begin with, to be corrected by whoever stands in the vehicle with a tape.
import type { Blocked, Vehicle } from '../../desk';

/** An arch along, across and up, mm; the middle of the rear axle as a share of the load space. Common practice, no source. */
const ARCH = { length: 800, width: 180, height: 250 };
const AXLE = 0.6;

/** A pair of arches, one on each side, no larger than a third of the space. */
export function wheelArches(v: Pick<Vehicle, 'length_mm' | 'width_mm' | 'height_mm'>): Blocked[] {
  const length_mm = Math.min(ARCH.length, Math.floor(v.length_mm / 3));
  const width_mm = Math.min(ARCH.width, Math.floor(v.width_mm / 3));
  const height_mm = Math.min(ARCH.height, Math.floor(v.height_mm / 3));
  const x_mm = Math.round(v.length_mm * AXLE - length_mm / 2);
  const one = { x_mm, y_mm: 0, z_mm: 0, length_mm, width_mm, height_mm };
  return [one, { ...one, y_mm: v.width_mm - width_mm }];
}
