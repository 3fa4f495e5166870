// A photograph of the venue behind the design: where its pixels stand in the room.
import type { Venue } from '../../desk';
import type { Room } from './room';

/** Below this the two tapped points lie too near to each other to measure by, px. */
const LEAST_PX = 8;
/** A sheet that is saved has at most so many px on a side and in all, as papers that cast a picture allow. */
const [SIDE_PX, MOST_PX] = [8192, 24_000_000];
/** Air beyond pieces that stand beyond the photograph, mm. */
const AIR_MM = 150;

/** A photograph in the room's front view, mm: x to the right, y up from the floor. */
export interface PhotoPlace {
  /** its left edge */
  left: number;
  /** its upper edge */
  top: number;
  width: number;
  height: number;
}

/** The same with the address of its bytes. */
export interface Ground extends PhotoPlace {
  url: string;
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

/** A sheet that holds the photograph and all pieces before it, px. */
export interface Canvas {
  width: number;
  height: number;
  mmPerPx: number;
  /** the scene's left end on the floor */
  x: number;
  y: number;
  /** where the photograph lies on it */
  photo: { x: number; y: number; width: number; height: number };
  /** pieces stand beyond the photograph */
  wider: boolean;
}

/** The sheet of a picture before the photograph: as large as that, and larger where pieces stand beyond its edge. Coarser only where it
 *  would be larger than a picture may be. Null without a photograph or a measure. */
export function canvasFor(venue: Tapped, room: Pick<Room, 'low' | 'high'>): Canvas | null {
  const [scale, place] = [mmPerPx(venue), photoPlace(venue)];
  if (scale === null || !place) return null;
  const [low, high] = [room.low, room.high].map((at) => at.map((dmm) => dmm / 10)) as [number[], number[]];
  // how far pieces reach beyond each edge, with some air; nothing where they do not
  const past = (mm: number) => (mm > 0 ? mm + AIR_MM : 0);
  const left = past(place.left - (low[0] ?? 0));
  const right = past((high[0] ?? 0) - (place.left + place.width));
  const above = past((high[1] ?? 0) - place.top);
  const below = past(place.top - place.height - (low[1] ?? 0));
  const [wide, tall] = [left + place.width + right, above + place.height + below];
  const finest = Math.max(scale, wide / SIDE_PX, tall / SIDE_PX, Math.sqrt((wide * tall) / MOST_PX));
  // whole px, none too many
  const px = (mm: number) => Math.floor(mm / finest + 1e-6);
  return {
    width: px(wide),
    height: px(tall),
    mmPerPx: finest,
    x: Math.round((left - place.left) / finest),
    y: Math.round((above + place.top) / finest),
    photo: { x: left / finest, y: above / finest, width: place.width / finest, height: place.height / finest },
    wider: left + right + above + below > 0,
  };
}
