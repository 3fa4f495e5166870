// A small loaded van for tests: two cases at the cab end, one on the other, a bag before them, a wide bag by the door.
import type { Load, Parcel, Run, Space } from '../../desk';
import { trips, type Trip } from './stowed';

/** A parcel in its place; the rest as it usually is. */
export function parcel(code: string, at: [number, number, number], sides: [number, number, number], more: Partial<Parcel> = {}, trip = 1, turn = 1, out = 1): Parcel {
  const [length_mm = 0, width_mm = 0, height_mm = 0] = [...sides].sort((a, b) => b - a);
  return {
    code,
    name: `What is in ${code}`,
    soft: code.startsWith('B'),
    length_mm,
    width_mm,
    height_mm,
    volume_ml: 1000,
    mass_g: null,
    needed: 1,
    piece: '',
    kit: '',
    holds: [],
    stuck_at: '',
    stuck: null,
    stow: { trip, turn, out, x_mm: at[0], y_mm: at[1], z_mm: at[2], dx_mm: sides[0], dy_mm: sides[1], dz_mm: sides[2], squeezed_pct: 0, folded: false },
    ...more,
  };
}

export const SPACE: Space = {
  van: '',
  name: 'Long van',
  length_mm: 3400,
  width_mm: 1700,
  height_mm: 1800,
  door_width_mm: 1500,
  door_height_mm: 1700,
  payload_g: 900_000,
  blocked: [{ x_mm: 1600, y_mm: 0, z_mm: 0, length_mm: 800, width_mm: 180, height_mm: 250 }],
};

const run = (trip: number, parcels: number): Run => ({ trip, space: 0, vehicle: SPACE.name, parcels, volume_pct: 20, mass_g: 40_000, unload: [], set_aside: [] });

/** One trip with four parcels, and a second with one. */
export const LOAD = {
  spaces: [SPACE],
  runs: [run(1, 4), run(2, 1)],
  parcels: [
    parcel('C1', [0, 0, 0], [600, 400, 300], {}, 1, 1, 4),
    parcel('C2', [0, 0, 300], [570, 400, 300], {}, 1, 2, 3),
    parcel('B1', [600, 0, 0], [900, 700, 700], { piece: 'arch' }, 1, 3, 2),
    parcel('B2', [2500, 0, 0], [700, 1600, 700], {}, 1, 4, 1),
    parcel('B3', [0, 1000, 0], [1400, 700, 700], {}, 2, 1, 1),
  ],
} satisfies Pick<Load, 'parcels' | 'runs' | 'spaces'>;

/** The first trip of `LOAD`. */
export const first = (): Trip => trips(LOAD)[0] as Trip;
