// Where a piece stands in the room's scene, by the job alone: a path that is being drawn is shown before there is a plan of
// it. The plan's scene has the same rules; a test in the browser holds the two together. Millimetres.
import type { Job, Piece, Plan } from '../../desk';
import { line, middle, type Path, type Point } from './pathing';
import { live } from '../../state/lists';

/** What hangs low is raised until its lowest point is so far above the floor. */
const CLEAR_MM = 900;
/** How high things hang where nothing says so. Common practice, no source. */
const USUAL_MM: Record<Piece['mount'], number> = {
  stair_rail: 950,
  ceiling_points: 2700,
  grid: 1900,
  backdrop: 1900,
  frame: 2100,
  wall_hooks: 2100,
  newer: 2100,
};
/** These stand at the height that they say; the others hang. */
const STANDS: readonly Piece['garland']['shape'][] = ['arch', 'half_arch', 'hoop', 'drawn', 'stair'];

/** The left foot of a piece. */
export interface Foot {
  x: number;
  y: number;
  z: number;
  turn_deg: number;
  /** it shares the middle of the frame that it hangs on */
  centred: boolean;
}

/** The path of a garland, as the document has it. */
export function pathOf(piece: Piece): Path {
  const { shape, length_mm, span_mm, rise_mm, landing_mm, mirrored, points } = piece.garland;
  return { shape, length_mm, span_mm, rise_mm, landing_mm, mirrored, points: live(points).map((p) => [p.x_mm, p.y_mm] as const) };
}

/** How high the lowest point of a hoop is that says no height, so that the balloons under it find room: as they were packed. */
export function liftOf(plan: Plan | null, id: string, piece: Piece): number {
  if (piece.kind !== 'garland' || piece.garland.shape !== 'hoop' || piece.y_mm > 0) return 0;
  const packed = plan?.pieces.find((p) => p.piece === id)?.garland?.packed ?? [];
  return Math.max(0, -packed.reduce((low, b) => Math.min(low, b.at[1] - b.r), 0)) / 10;
}

/** Where a garland with this path has its left foot, a hoop so far lifted. */
export function footOf(job: Job, piece: Piece, path: Path, lift = 0): Foot {
  const points = line(path);
  const stands = STANDS.includes(path.shape);
  const frame = carrier(job, piece);
  if (!frame) {
    // up a stair it hangs on the rail
    const railed = path.shape === 'stair' && piece.mount === 'stair_rail';
    return { x: piece.x_mm, y: piece.y_mm + (stands && !railed ? lift : raised(job, piece, 0, points)), z: piece.z_mm, turn_deg: piece.turn_deg, centred: false };
  }
  const { width_mm, height_mm, form } = frame.frame;
  const own = width_mm / 2 - middle(points) + piece.x_mm;
  const up = stands ? piece.y_mm + lift : form === 'rail' ? Math.max(height_mm, CLEAR_MM) : piece.y_mm + raised(job, piece, height_mm, points);
  const angle = (frame.turn_deg * Math.PI) / 180;
  return {
    x: frame.x_mm + own * Math.cos(angle) + piece.z_mm * Math.sin(angle),
    y: frame.y_mm + up,
    z: frame.z_mm + piece.z_mm * Math.cos(angle) - own * Math.sin(angle),
    turn_deg: frame.turn_deg,
    centred: true,
  };
}

/** Where a piece of any other kind has its left foot. */
export const pieceFoot = (job: Job, piece: Piece): Foot => ({ x: piece.x_mm, y: piece.y_mm || (piece.kind === 'chain' ? usual(job, piece) : 0), z: piece.z_mm, turn_deg: piece.turn_deg, centred: false });

/** How much higher the points of a path have to be so that it stays where it is when it is drawn: what is drawn stands by its own measures. */
export function heldUp(job: Job, piece: Piece, lift = 0): number {
  const path = pathOf(piece);
  return footOf(job, piece, path, lift).y - footOf(job, piece, { ...path, shape: 'drawn' }).y;
}

/** The frame that a piece hangs on, if it is in the job. */
export function carrier(job: Job, piece: Piece): Piece | null {
  const frame = piece.on ? job.pieces[piece.on] : undefined;
  return frame && !frame.gone && frame.kind === 'frame' ? frame : null;
}

/** The id of what a piece is moved with: the frame it hangs on, or the garland it is put into, or that one's frame; empty if there is
 *  none. */
export function carrierId(job: Job, piece: Piece): string {
  const on = (id: string) => {
    const next = job.pieces[id]?.on ?? '';
    const held = next ? job.pieces[next] : undefined;
    return held && !held.gone ? next : '';
  };
  const held = piece.on ? job.pieces[piece.on] : undefined;
  // two steps and no more: a job that goes round in circles is shown all the same
  return held && !held.gone ? on(piece.on) || piece.on : '';
}

/** How far a hand may lift a piece by this: downwards only until it touches the floor. What was set lower by its number stays so. */
export function aboveFloor(piece: Piece, foot: Foot, by: number): number {
  const lowest = piece.kind === 'garland' ? line(pathOf(piece)).reduce((low, p) => Math.min(low, p[1]), 0) : 0;
  return Math.max(by, Math.min(0, -lowest - foot.y));
}

/** The height that a piece is to have so that it stands `by` higher than now: one that hangs as usual begins at that height. */
export function lifted(job: Job, piece: Piece, foot: Foot, by: number): number {
  const base = carrier(job, piece)?.y_mm ?? 0;
  const y = Math.round(foot.y + aboveFloor(piece, foot, by) - base);
  // 0 would mean: as it usually hangs
  return y === 0 && piece.kind === 'garland' && !STANDS.includes(piece.garland.shape) ? 1 : y;
}

/** How high what hangs by this mount usually hangs, or where the ceiling is. */
const usual = (job: Job, piece: Piece): number => (piece.mount === 'ceiling_points' && job.venue.ceiling_mm > 0 ? job.venue.ceiling_mm : USUAL_MM[piece.mount]);

function raised(job: Job, piece: Piece, frame_mm: number, points: readonly Point[]): number {
  if (piece.y_mm !== 0) return 0;
  const lowest = points.reduce((low, p) => Math.min(low, p[1]), Infinity);
  return Math.max(frame_mm > 0 ? frame_mm : usual(job, piece), CLEAR_MM - (Number.isFinite(lowest) ? lowest : 0));
}
