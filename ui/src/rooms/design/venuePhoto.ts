// The photograph behind the design: the three marks on it, and the edits that name, move and unname.
import type { Edit, Venue } from '../../desk';
import type { Kept } from '../../state/photos';
import { set } from '../../state/lists';

/** A point of the photograph, px from its left and top edge. */
export interface Spot {
  x: number;
  y: number;
}

/** The two points of known distance, and the point of the floor where the design's left end stands. */
export type Mark = 'a' | 'b' | 'o';
export const MARKS: Mark[] = ['a', 'b', 'o'];

/** Where a mark lies. */
export const spot = (venue: Venue, mark: Mark): Spot => ({ x: venue[`photo_${mark}x_px`], y: venue[`photo_${mark}y_px`] });

/** A point inside the photograph, on a whole px. */
export const inside = (venue: Venue, at: Spot): Spot => ({
  x: Math.round(Math.min(venue.photo_width_px, Math.max(0, at.x))),
  y: Math.round(Math.min(venue.photo_height_px, Math.max(0, at.y))),
});

/** Names the photograph in the job, with its marks where they are easy to take hold of. Another scale has to be measured. */
export function named(kept: Kept): Edit[] {
  const at = (across: number, down: number): Spot => ({ x: Math.round(kept.width * across), y: Math.round(kept.height * down) });
  return [
    ...fields({ photo: kept.hash, photo_width_px: kept.width, photo_height_px: kept.height, photo_between_mm: 0 }),
    ...moved('a', at(0.3, 0.45)),
    ...moved('b', at(0.7, 0.45)),
    ...moved('o', at(0.2, 0.85)),
  ];
}

/** Puts a mark somewhere else. */
export const moved = (mark: Mark, at: Spot): Edit[] => fields({ [`photo_${mark}x_px`]: at.x, [`photo_${mark}y_px`]: at.y });

/** The job names no photograph any more. */
export const unnamed = (): Edit[] =>
  fields({
    photo: '',
    ...Object.fromEntries(['width', 'height', 'ax', 'ay', 'bx', 'by', 'ox', 'oy'].map((what) => [`photo_${what}_px`, 0])),
    photo_between_mm: 0,
  });

const fields = (values: Record<string, unknown>): Edit[] => Object.entries(values).map(([field, value]) => set(['venue', field], value));
