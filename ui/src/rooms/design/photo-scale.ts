// A photograph of the venue behind the design: where its pixels stand in the room.
import type { Venue } from '../../desk';

/** Below this the two tapped points lie too near to each other to measure by, px. */
const LEAST_PX = 8;

/** A photograph in the room's front view, mm: x to the right, y up from the floor. */
export interface PhotoPlace {
  /** its left edge */
  left: number;
  /** its upper edge */
  top: number;
  width: number;
  height: number;
}

type Tapped = Pick<
  Venue,
  'photo' | 'photo_width_px' | 'photo_height_px' | 'photo_ax_px' | 'photo_ay_px' | 'photo_bx_px' | 'photo_by_px' | 'photo_between_mm' | 'photo_ox_px' | 'photo_oy_px'
>;

/** Millimetres to a pixel, from two tapped points and what was measured between them; null while there is no measure. */
export function mmPerPx(venue: Tapped): number | null {
  const px = Math.hypot(venue.photo_bx_px - venue.photo_ax_px, venue.photo_by_px - venue.photo_ay_px);
  return px >= LEAST_PX && venue.photo_between_mm > 0 ? venue.photo_between_mm / px : null;
}

/** Where the photograph stands: its origin is the scene's left end on the floor. Null without a photograph or a measure. */
export function photoPlace(venue: Tapped): PhotoPlace | null {
  const scale = mmPerPx(venue);
  if (!venue.photo || scale === null || venue.photo_width_px <= 0 || venue.photo_height_px <= 0) return null;
  return {
    left: -venue.photo_ox_px * scale,
    top: venue.photo_oy_px * scale,
    width: venue.photo_width_px * scale,
    height: venue.photo_height_px * scale,
  };
}
