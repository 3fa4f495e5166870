// Where a new piece finds room: near what is there, in rows one before the other, so that a picture of all of it stays close.
import type { Piece } from '../../desk';
import { live } from '../../state/lists';

/** Air between pieces alike and between neighbours, mm. */
const BETWEEN_MM = 300;
/** A row is so wide, mm; then the next begins. Seen from the front a second row stands before the first, so most jobs should do with one. */
const ROW_MM = 12_000;
/** Rows stand so far before one another, mm: the nearer one is walked round. Common practice, no source. */
const DEEP_MM = 2000;

/** The place nearest to the left end of the first row where a piece so wide has room. Later rows stand before the first, for behind it
 *  there may be a wall. */
export function freePlace(pieces: readonly Piece[], width_mm: number): { x_mm: number; z_mm: number } {
  // what hangs on another piece, or is put into it, stands where that does
  const taken = pieces.filter((p) => p.on === '' || p.on === undefined).map((p) => ({ z: p.z_mm ?? 0, from: p.x_mm, to: p.x_mm + long(p) }));
  if (taken.length === 0) return { x_mm: 0, z_mm: 0 };
  const left = Math.min(...taken.map((s) => s.from));
  const first = taken.reduce((a, b) => (b.from < a.from ? b : a)).z;
  for (let row = 0; ; row++) {
    const z_mm = first + row * DEEP_MM;
    const beside = taken.filter((s) => Math.abs(s.z - z_mm) < DEEP_MM);
    const air = 2 * BETWEEN_MM;
    const starts = [left, ...beside.map((s) => Math.ceil((s.to + air) / 100) * 100)].sort((a, b) => a - b);
    // what is wider than a row has one for itself
    const fits = (x: number) => x >= left && (x === left || x + width_mm <= left + ROW_MM) && beside.every((s) => x >= s.to + air || x + width_mm + air <= s.from);
    const x_mm = starts.find(fits);
    if (x_mm !== undefined) return { x_mm, z_mm };
  }
}

/** How much room pieces alike take beside each other, mm. */
export const long = (p: Piece) => (Math.max(1, alike(p)) - 1) * (p.apart_mm > 0 ? p.apart_mm : wide(p) + BETWEEN_MM) + wide(p);

/** How many of a piece stand beside each other. */
export function alike(p: Piece): number {
  if (p.kind === 'frame') return p.frame.count;
  if (p.kind === 'classic') return p.classic.count;
  if (p.kind === 'bouquet') return p.bouquet.count;
  if (p.kind === 'centrepiece') return p.centrepiece.count;
  return p.kind === 'loose' ? p.loose.count : 1;
}

/** About how wide one of a piece is, mm: for putting the next one beside it. */
function wide(p: Piece): number {
  switch (p.kind) {
    case 'garland': {
      const xs = live(p.garland.points).map((point) => point.x_mm);
      if (p.garland.shape === 'drawn') return xs.length === 0 ? 0 : Math.max(...xs) - Math.min(...xs);
      return p.garland.shape === 'straight' ? p.garland.length_mm : p.garland.span_mm;
    }
    case 'chain':
      return p.chain.span_mm;
    case 'frame':
      return p.frame.width_mm;
    case 'classic':
      return p.classic.form === 'arch' ? p.classic.span_mm : p.classic.blown_dmm / 4;
    case 'wall':
      return p.wall.width_mm;
    case 'foils':
      return p.foils.text.length * (p.foils.height_mm * 0.6 + p.foils.gap_mm);
    case 'floaters':
      return p.floaters.width_mm;
    default:
      return 600;
  }
}
