// A stowed load as its drawings and words need it: trip by trip, boxes in a space. Millimetres; x from the bulkhead to the door, y across
// from the left as one looks in at the door, z up.
import type { Blocked, Load, Parcel, Run, Space, Stow } from '../../desk';

/** A box that stands somewhere. */
export interface Box {
  x: number;
  y: number;
  z: number;
  dx: number;
  dy: number;
  dz: number;
}

/** A parcel in its place. */
export interface Stood {
  parcel: Parcel;
  stow: Stow;
  box: Box;
}

/** One trip of one vehicle, its parcels in the order of loading. */
export interface Trip {
  run: Run;
  space: Space;
  stood: Stood[];
}

/** Which way the load is stepped through: as it is put in, or as it comes out. */
export type Way = 'in' | 'out';

/** The parts of a load that say where things stand. */
export type Stowable = Pick<Load, 'parcels' | 'runs' | 'spaces'>;

/** The trips of a load, each with what it carries; none where nothing is stowed. */
export function trips(load: Stowable): Trip[] {
  return load.runs.flatMap((run) => {
    const space = load.spaces[run.space];
    if (!space) return [];
    const stood = load.parcels.flatMap((parcel) => {
      const stow = parcel.stow;
      return stow && stow.trip === run.trip ? [{ parcel, stow, box: boxAt(stow) }] : [];
    });
    return [{ run, space, stood: stood.sort((a, b) => a.stow.turn - b.stow.turn) }];
  });
}

/** What stands in the way inside a space: wheel arches and the like. */
export const blockedBoxes = (space: Pick<Space, 'blocked'>): Box[] => space.blocked.map(blockedBox);

function blockedBox(b: Blocked): Box {
  return { x: b.x_mm, y: b.y_mm, z: b.z_mm, dx: b.length_mm, dy: b.width_mm, dz: b.height_mm };
}

function boxAt(s: Stow): Box {
  return { x: s.x_mm, y: s.y_mm, z: s.z_mm, dx: s.dx_mm, dy: s.dy_mm, dz: s.dz_mm };
}

/** The parcels of a trip in the order of one way. */
export function inOrder(trip: Trip, way: Way): Stood[] {
  return way === 'in' ? trip.stood : [...trip.stood].sort((a, b) => a.stow.out - b.stow.out);
}

/** What stands in the vehicle when the parcel at place `at` of the order is in hand, that one included: those put in before it, or
 *  those not yet taken out. `at` counts from 0; null is the whole load. */
export function inside(trip: Trip, way: Way, at: number | null): Stood[] {
  if (at === null) return trip.stood;
  const order = inOrder(trip, way);
  return way === 'in' ? order.slice(0, at + 1) : order.slice(at);
}
