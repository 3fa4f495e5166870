// The flat drawing of a loaded vehicle: rectangles from the left side and from above, in mm, y down as SVG has it; which lies over which,
// and where a label can be read. From the left side the cab is at the left and the door at the right; from above the same, the left side
// of the load at the foot.
import type { Space } from '../../desk';
import type { Box } from './stowed';

/** Which way one looks. */
export type Look = 'side' | 'top';

/** A rectangle on the drawing, mm. */
export interface Rect {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A box as it is drawn. */
export interface Face<T> {
  of: T;
  rect: Rect;
  /** where its label stands; null where nothing of it is seen that is large enough */
  label: { x: number; y: number } | null;
}

/** Places that are tried for a label, in each direction. */
const TRIED = 9;

/** The size of a drawing. */
export function sheet(space: Pick<Space, 'length_mm' | 'width_mm' | 'height_mm'>, look: Look): { width: number; height: number } {
  return { width: space.length_mm, height: look === 'side' ? space.height_mm : space.width_mm };
}

/** A box seen from there. */
export function rectOf(space: Pick<Space, 'width_mm' | 'height_mm'>, box: Box, look: Look): Rect {
  return look === 'side'
    ? { x: box.x, y: space.height_mm - box.z - box.dz, width: box.dx, height: box.dz }
    : { x: box.x, y: space.width_mm - box.y - box.dy, width: box.dx, height: box.dy };
}

/** Boxes as they are drawn, those behind first. A label needs `room` mm round its middle. */
export function faces<T extends { box: Box }>(space: Pick<Space, 'width_mm' | 'height_mm'>, list: readonly T[], look: Look, room: { width: number; height: number }): Face<T>[] {
  // seen from the left what is further left hides the rest; from above what is higher
  const near = (b: Box) => (look === 'side' ? -b.y : b.z + b.dz);
  const drawn = [...list].sort((a, b) => near(a.box) - near(b.box)).map((of) => ({ of, rect: rectOf(space, of.box, look) }));
  return drawn.map((face, i) => ({ ...face, label: labelPlace(face.rect, drawn.slice(i + 1).map((d) => d.rect), room) }));
}

/** The place in a rectangle that is furthest from its edges and from what lies over it; null if there is none with room. Upright room is
 *  what letters need: less than sideways. */
export function labelPlace(rect: Rect, over: readonly Rect[], room: { width: number; height: number }): { x: number; y: number } | null {
  const hiding = over.filter((o) => o.x < rect.x + rect.width && o.x + o.width > rect.x && o.y < rect.y + rect.height && o.y + o.height > rect.y);
  let best: { x: number; y: number } | null = null;
  let most = 0;
  for (let i = 0; i < TRIED; i++) {
    for (let j = 0; j < TRIED; j++) {
      const at = { x: rect.x + ((i + 0.5) / TRIED) * rect.width, y: rect.y + ((j + 0.5) / TRIED) * rect.height };
      const free = Math.min(inward(at, rect, room), ...hiding.map((o) => -inward(at, o, room)));
      // the middle is kept unless another place is clearly freer
      const middle = i === (TRIED - 1) / 2 && j === (TRIED - 1) / 2 ? 0.05 : 0;
      if (free >= 1 && free + middle > most) [best, most] = [at, free + middle];
    }
  }
  return best;
}

/** How far inside a rectangle a label's middle lies, counted in halves of the room it needs: 1 is just enough, negative is outside. */
function inward(at: { x: number; y: number }, r: Rect, room: { width: number; height: number }): number {
  const across = Math.min(at.x - r.x, r.x + r.width - at.x) / (room.width / 2);
  const up = Math.min(at.y - r.y, r.y + r.height - at.y) / (room.height / 2);
  return Math.min(across, up);
}

/** The foremost box at a point of the drawing. */
export function hit<T extends { box: Box }>(drawn: readonly Face<T>[], x: number, y: number): T | null {
  const inside = (r: Rect) => x >= r.x && x <= r.x + r.width && y >= r.y && y <= r.y + r.height;
  return drawn.findLast((f) => inside(f.rect))?.of ?? null;
}
