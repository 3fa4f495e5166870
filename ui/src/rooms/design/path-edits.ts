// What a path that was drawn or dragged changes in the document, as one list of edits.
import type { Edit, Mount, PathPoint, Piece } from '../../desk';
import { add, freshId, live, remove, set } from '../../state/lists';
import { curve, lengthOf, line, middle, type Dragged, type Path, type Point } from './pathing';
import type { Foot } from './place';

const AXES = ['x_mm', 'y_mm', 'z_mm'] as const;
const MEASURES = ['length_mm', 'span_mm', 'rise_mm', 'landing_mm'] as const;

/** The edits that turn a piece's path into another one whose foot goes `shift` to the right. */
export function pathEdits(id: string, piece: Piece, before: Path, foot: Foot, { path, shift }: Dragged): Edit[] {
  const at = (field: string) => ['pieces', id, 'garland', field];
  const edits = MEASURES.filter((m) => path[m] !== before[m]).map((m) => set(at(m), path[m]));
  if (path.shape !== before.shape) edits.unshift(set(at('shape'), path.shape));
  if (path.shape === 'drawn') edits.push(...pointEdits(at('points'), piece, path.points));
  // on a frame the plan sets the middle of the path to the middle of the frame: what that moves is taken back here
  const along = shift + (foot.centred ? middle(line(path)) - middle(line(before)) : 0);
  return [...edits, ...shiftEdits(id, piece, foot, Math.round(along))];
}

/** The edits that set a piece `along` its own front and to another height. */
export function moveEdits(id: string, piece: Piece, foot: Foot, along: number, y_mm: number): Edit[] {
  return [...shiftEdits(id, piece, foot, along), ...(y_mm === piece.y_mm ? [] : [set(['pieces', id, 'y_mm'], y_mm)])];
}

/** How long a drawn path is along its curve, mm. */
export const drawnLength = (piece: Piece): number => lengthOf(curve(live(piece.garland.points).map((p) => [p.x_mm, p.y_mm, p.z_mm] as const)));

/** A drawn path made `long` along its curve, in the same shape and from the place where it begins. */
export function scaledEdits(id: string, piece: Piece, foot: Foot, long: number): Edit[] {
  const points = live(piece.garland.points);
  const [first] = points;
  const now = drawnLength(piece);
  if (!first || now <= 0) return [];
  const scaled = points.map((p) => ({ ...p, ...Object.fromEntries(AXES.map((axis) => [axis, Math.round(first[axis] + ((p[axis] - first[axis]) * long) / now)])) }));
  const edits = scaled.flatMap((p, i) =>
    AXES.filter((axis) => p[axis] !== points[i]?.[axis]).map((axis) => set(['pieces', id, 'garland', 'points', p.id, axis], p[axis])),
  );
  const across = (list: readonly PathPoint[]) => middle(curve(list.map((p) => [p.x_mm, p.y_mm] as const)));
  // on a frame the plan sets its middle to that of the frame: the place where it begins is kept here
  return [...edits, ...(foot.centred ? shiftEdits(id, piece, foot, Math.round(across(scaled) - across(points))) : [])];
}

/** A drawn path with one point more, between the point with this number and the next. */
export function pointAdded(id: string, piece: Piece, after: number, at: Point): Edit[] {
  const next = live(piece.garland.points)[after + 1]?.id ?? null;
  return [{ op: 'add', part: 'job', path: ['pieces', id, 'garland', 'points'], id: freshId(), before: next, value: { x_mm: at[0], y_mm: at[1] } } as Edit];
}

/** A drawn path without the point of this number. */
export function pointRemoved(id: string, piece: Piece, at: number): Edit[] {
  const gone = live(piece.garland.points)[at];
  return gone ? [remove(['pieces', id, 'garland', 'points'], gone.id)] : [];
}

function shiftEdits(id: string, piece: Piece, foot: Foot, along: number): Edit[] {
  if (along === 0) return [];
  const angle = (foot.turn_deg * Math.PI) / 180;
  // on a frame the place is in the frame's own measure; elsewhere it is in the room's
  const [x, z] = foot.centred || foot.turn_deg === 0 ? [along, 0] : [along * Math.cos(angle), -along * Math.sin(angle)];
  const set_by = (field: 'x_mm' | 'z_mm', by: number) => (Math.round(by) === 0 ? [] : [set(['pieces', id, field], piece[field] + Math.round(by))]);
  return [...set_by('x_mm', x), ...set_by('z_mm', z)];
}

/** Points that are there are moved, in their order; what is too much goes, what lacks comes after them. */
function pointEdits(list: string[], piece: Piece, points: readonly Point[]): Edit[] {
  const old = live(piece.garland.points);
  return [
    ...points.flatMap((p, i) => {
      const kept = old[i];
      if (!kept) return [add(list, freshId(), { x_mm: p[0], y_mm: p[1], z_mm: 0 })];
      const fields = [['x_mm', p[0]], ['y_mm', p[1]]] as const;
      return fields.filter(([f, v]) => kept[f] !== v).map(([f, v]) => set([...list, kept.id, f], v));
    }),
    ...old.slice(points.length).map((p) => remove(list, p.id)),
  ];
}

/** A swag sags by a fifth of its span. Common practice, no source. */
const SAG = 0.2;
/** How high a garland is that stands, where it was a flat swag before, mm: as a new one. */
const STANDS_MM = 2200;

const STAND: readonly Path['shape'][] = ['arch', 'half_arch', 'hoop', 'stair'];

/** What a garland of a shape mostly hangs on; the others go anywhere. Common practice, no source. */
const USUAL: Partial<Record<Path['shape'], Mount>> = { arch: 'frame', half_arch: 'frame', hoop: 'frame', stair: 'stair_rail', swag: 'ceiling_points' };

/** What a choice of shape changes in the height: one that stands is no sag, and a sag is no height to stand in. What the piece hangs on
 *  follows too, while it is what it was with the shape before and no piece of the job. */
export function shapeEdits(id: string, piece: Piece, shape: Path['shape']): Edit[] {
  const { shape: was, span_mm, rise_mm } = piece.garland;
  const sags = shape === 'swag' && was !== 'swag';
  // as flat as a swag, and not by the choice of one who set an arch so
  const stands = STAND.includes(shape) && !STAND.includes(was) && rise_mm <= span_mm * SAG;
  const rise = sags ? Math.round((span_mm * SAG) / 10) * 10 : stands ? STANDS_MM : rise_mm;
  const at = ['pieces', id, 'garland'];
  const mount = piece.on === '' && piece.mount === (USUAL[was as Path['shape']] ?? 'frame') ? (USUAL[shape] ?? piece.mount) : piece.mount;
  return [
    set([...at, 'shape'], shape),
    ...(rise === rise_mm ? [] : [set([...at, 'rise_mm'], rise)]),
    ...(mount === piece.mount ? [] : [set(['pieces', id, 'mount'], mount)]),
  ];
}
