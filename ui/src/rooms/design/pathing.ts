// Paths as they are drawn by hand: the line of a shape, its handles and what dragging one changes, strokes made simple.
// Millimetres in the piece's own measure: x to the right, y up, from its left foot. Nothing here knows the screen.
import type { Garland } from '../../desk';

/** A point, mm. */
export type Point = readonly [number, number];

/** The most points that a stroke is kept with: as many as a finger can still take hold of along an arch. */
export const MOST_POINTS = 24;
/** Below this length a stroke is a slip of the finger, mm. */
export const LEAST_STROKE_MM = 200;
/** A stroke is kept as true as this where so many points allow it, mm: a hand does not draw finer. */
const TRUE_MM = 30;
/** No measure of a path is dragged below or beyond these, mm. */
const LEAST_MM = 200;
const MOST_MM = 50_000;
/** What is dragged falls on whole centimetres, mm. */
const SNAP_MM = 10;
/** Parts of a curve that is drawn, and between two drawn points: as many as the plan uses there. */
const PARTS = 64;
const PARTS_BETWEEN = 24;
/** Steps of halving: more than a double has digits. */
const HALVINGS = 60;

/** What makes a path: the fields of a garland, its drawn points as a list. */
export interface Path {
  shape: Garland['shape'];
  length_mm: number;
  span_mm: number;
  rise_mm: number;
  landing_mm: number;
  /** half an arch with its foot on the right */
  mirrored: boolean;
  points: Point[];
}

/** Which part of a path is taken hold of. */
export type Grip = 'left' | 'right' | 'top' | 'landing' | number;

/** A place where a path can be taken hold of. */
export interface Handle {
  grip: Grip;
  at: Point;
  /** the ways in which it moves */
  ways: 'x' | 'y' | 'xy';
}

/** A path after a drag, and how far its foot went to the right, mm. */
export interface Dragged {
  path: Path;
  shift: number;
}

/** The line of a path. Empty where there is none. */
export function line(path: Path): Point[] {
  const { span_mm: span, rise_mm: rise } = path;
  switch (path.shape) {
    case 'straight':
      return [[0, 0], [path.length_mm, 0]];
    case 'arch':
      return turn(PARTS, Math.PI, (a) => [(span / 2) * (1 - Math.cos(a)), rise * Math.sin(a)]);
    case 'half_arch':
      return turn(PARTS, Math.PI / 2, (a) => [aside(path, span * (1 - Math.cos(a))), rise * Math.sin(a)]);
    case 'swag':
      return swag(span, rise);
    case 'stair':
      return [[0, 0], [span, rise], ...(path.landing_mm > 0 ? [[span + path.landing_mm, rise] as const] : [])];
    case 'hoop':
      return turn(2 * PARTS, 2 * Math.PI, (a) => [(span / 2) * (1 - Math.sin(a)), (rise / 2) * (1 - Math.cos(a))]);
    case 'drawn':
      return curve(path.points);
    default:
      return [];
  }
}

/** Length of a line of chords, in the plane or in space, mm. */
export function lengthOf(points: readonly (readonly number[])[]): number {
  return points.reduce((sum, p, i) => sum + Math.hypot(...p.map((v, axis) => v - (points[i - 1]?.[axis] ?? v))), 0);
}

/** Where a path can be taken hold of. */
export function handles(path: Path): Handle[] {
  const { span_mm: span, rise_mm: rise } = path;
  switch (path.shape) {
    case 'straight':
      return [{ grip: 'left', at: [0, 0], ways: 'x' }, { grip: 'right', at: [path.length_mm, 0], ways: 'x' }];
    case 'arch':
      return [{ grip: 'left', at: [0, 0], ways: 'x' }, { grip: 'top', at: [span / 2, rise], ways: 'y' }, { grip: 'right', at: [span, 0], ways: 'x' }];
    case 'half_arch':
      return [{ grip: path.mirrored ? 'right' : 'left', at: [aside(path, 0), 0], ways: 'x' }, { grip: 'top', at: [aside(path, span), rise], ways: 'xy' }];
    case 'swag':
      return [{ grip: 'left', at: [0, 0], ways: 'x' }, { grip: 'top', at: [span / 2, -rise], ways: 'y' }, { grip: 'right', at: [span, 0], ways: 'x' }];
    case 'stair':
      return [
        { grip: 'left', at: [0, 0], ways: 'x' },
        { grip: 'top', at: [span, rise], ways: 'xy' },
        { grip: 'landing', at: [span + path.landing_mm, rise], ways: 'x' },
      ];
    case 'hoop':
      return [{ grip: 'left', at: [0, rise / 2], ways: 'x' }, { grip: 'top', at: [span / 2, rise], ways: 'y' }, { grip: 'right', at: [span, rise / 2], ways: 'x' }];
    case 'drawn':
      return path.points.map((at, grip) => ({ grip, at, ways: 'xy' as const }));
    default:
      return [];
  }
}

/** The path after a handle was dragged to a point. A path that shares the middle of its frame grows to both sides at
 *  once, so that the handle stays under the finger; any other keeps its far end where it is. */
export function drag(path: Path, grip: Grip, to: Point, centred: boolean): Dragged {
  const still = { path, shift: 0 };
  const [x, y] = to;
  if (typeof grip === 'number') {
    if (grip >= path.points.length) return still;
    const points = path.points.map((p, i) => (i === grip ? ([snap(x), snap(y)] as const) : p));
    // the plan sets a drawn path by its middle, which a point at its end moves
    return { path: { ...path, points }, shift: 0 };
  }
  if (path.shape === 'half_arch') {
    // its other end stays where it is, on a frame too
    const fromLeft = (grip === 'top') === path.mirrored;
    const wide = within(fromLeft ? path.span_mm - x : x);
    const shift = fromLeft ? path.span_mm - wide : 0;
    return { path: { ...path, span_mm: wide, rise_mm: grip === 'top' ? within(y) : path.rise_mm }, shift };
  }
  if (path.shape === 'stair' && grip !== 'left') {
    if (grip === 'landing') return { path: { ...path, landing_mm: Math.min(MOST_MM, Math.max(0, snap(x - path.span_mm))) }, shift: 0 };
    return { path: { ...path, span_mm: within(x), rise_mm: within(y) }, shift: 0 };
  }
  if (grip === 'top') return { path: { ...path, rise_mm: within(path.shape === 'swag' ? -y : y) }, shift: 0 };
  if (grip === 'landing') return still;
  const field = path.shape === 'straight' ? 'length_mm' : 'span_mm';
  const old = path[field];
  const grown = grip === 'left' ? -x : x - old;
  const wide = within(old + grown * (centred ? 2 : 1));
  // the foot goes to the left by what the path grew there
  const shift = centred ? (old - wide) / 2 : grip === 'left' ? old - wide : 0;
  return { path: { ...path, [field]: wide }, shift: shift || 0 };
}

/** Least and greatest x of a line, and the middle between them. */
export function middle(points: readonly Point[]): number {
  const xs = points.map((p) => p[0]);
  return points.length === 0 ? 0 : (least(xs) - least(xs.map((x) => -x))) / 2;
}

/** A stroke of the hand as the few points that a curve through them follows: those that Ramer (1972), Douglas and Peucker
 *  (1973) keep, coarser until there are at most `most`, and coarser still, up to a third of `apart`, while two of them lie
 *  nearer to each other than that, mm. On whole centimetres, no point twice. */
export function simplified(stroke: readonly Point[], most = MOST_POINTS, apart = 0): Point[] {
  let within = TRUE_MM;
  let kept = furthest(stroke, within);
  const crowded = () => kept.some((p, i) => i > 0 && distance(p, kept[i - 1] ?? p) < apart);
  while (kept.length > most || (crowded() && within < apart / 3)) {
    within *= 1.25;
    kept = furthest(stroke, within);
  }
  const round = kept.map(([x, y]) => [snap(x), snap(y)] as const);
  return round.filter((p, i) => i === 0 || p[0] !== round[i - 1]?.[0] || p[1] !== round[i - 1]?.[1]);
}

/** The points of a stroke that are kept so that none is further than `within` from the line through them. */
export function furthest(stroke: readonly Point[], within: number): Point[] {
  const [first, last] = [stroke[0], stroke[stroke.length - 1]];
  if (!first || !last || stroke.length < 3) return [...stroke];
  let at = 0;
  let far = within;
  for (let i = 1; i < stroke.length - 1; i++) {
    const d = fromSegment(stroke[i] ?? first, first, last);
    if (d > far) [at, far] = [i, d];
  }
  if (at === 0) return [first, last];
  return [...furthest(stroke.slice(0, at + 1), within).slice(0, -1), ...furthest(stroke.slice(at), within)];
}

/** Between which two drawn points the line passes nearest to a point: the number of the first. */
export function between(points: readonly Point[], to: Point): number {
  const fine = curve(points);
  let [best, found] = [Infinity, 0];
  fine.forEach((p, i) => {
    const after = fine[i + 1];
    const d = after ? fromSegment(to, p, after) : Infinity;
    if (d < best) [best, found] = [d, points.length === 2 ? 0 : Math.floor(i / PARTS_BETWEEN)];
  });
  return found;
}

/** How far a point is from a line of chords, mm. */
export function fromLine(points: readonly Point[], to: Point): number {
  return points.reduce((d, p, i) => Math.min(d, fromSegment(to, points[i - 1] ?? p, p)), Infinity);
}

/** The nearest whole centimetre, mm. */
export const snap = (mm: number) => Math.round(mm / SNAP_MM) * SNAP_MM || 0;

const within = (mm: number) => Math.min(MOST_MM, Math.max(LEAST_MM, snap(mm)));
const least = (list: readonly number[]) => list.reduce((a, b) => Math.min(a, b), Infinity);
const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** A way from the foot of half an arch, to whichever side it reaches. */
const aside = (path: Path, mm: number) => (path.mirrored ? path.span_mm - mm : mm);

function turn(parts: number, whole: number, at: (angle: number) => Point): Point[] {
  return Array.from({ length: parts + 1 }, (_, i) => at((whole * i) / parts));
}

/** A catenary: y = c cosh(x / c), hung between two points at one height. */
function swag(span: number, sag: number): Point[] {
  if (sag <= 0 || span <= 0) return [[0, 0], [span, 0]];
  // with u = span / 2c: (cosh u − 1) / u = 2 sag / span, which grows with u
  let [low, high] = [0, 100];
  for (let i = 0; i < HALVINGS; i++) {
    const u = (low + high) / 2;
    if ((Math.cosh(u) - 1) / u < (2 * sag) / span) low = u;
    else high = u;
  }
  const c = span / (low + high);
  return Array.from({ length: PARTS + 1 }, (_, i) => {
    const x = span * (i / PARTS - 0.5);
    return [x + span / 2, c * Math.cosh(x / c) - c - sag] as const;
  });
}

/** Through the points without corners: the cubic of Catmull and Rom (1974), uniform, as the plan draws it. In the plane or in space. */
export function curve<P extends readonly number[]>(points: readonly P[]): P[] {
  const [first] = points;
  if (!first || points.length < 3) return [...points];
  const fine: P[] = [first];
  points.slice(1).forEach((b, i) => {
    const a = points[i] ?? b;
    const [before, after] = [points[i - 1] ?? a, points[i + 2] ?? b];
    for (let part = 1; part <= PARTS_BETWEEN; part++) {
      const t = part / PARTS_BETWEEN;
      fine.push(a.map((v, axis) => cubic(before[axis] ?? v, v, b[axis] ?? v, after[axis] ?? v, t)) as unknown as P);
    }
  });
  return fine;
}

function cubic(before: number, a: number, b: number, after: number, t: number): number {
  const [m, n] = [(b - before) / 2, (after - a) / 2];
  const [t2, t3] = [t * t, t * t * t];
  return (2 * t3 - 3 * t2 + 1) * a + (t3 - 2 * t2 + t) * m + (3 * t2 - 2 * t3) * b + (t3 - t2) * n;
}

function fromSegment(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const part = square > 0 ? Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square)) : 0;
  return distance(p, [a[0] + part * dx, a[1] + part * dy]);
}
