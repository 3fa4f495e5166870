// Points of a drawn path: where a path begins that was of another shape, and where a new point goes.
import type { Garland, PathPoint } from '../../desk';

/** A point without its place in the list. */
export type Point = Pick<PathPoint, 'x_mm' | 'y_mm' | 'z_mm'>;

/** How many points stand for an arch or a hoop. */
const BENT = 9;

/** The points that a path begins with, after the shape that it had: x to the right, y up, the first tip first. */
export function firstPoints(g: Pick<Garland, 'shape' | 'length_mm' | 'span_mm' | 'rise_mm' | 'landing_mm' | 'mirrored'>): Point[] {
  const at = (x: number, y: number): Point => ({ x_mm: Math.round(x), y_mm: Math.round(y), z_mm: 0 });
  const along = Array.from({ length: BENT }, (_, i) => i / (BENT - 1));
  switch (g.shape) {
    case 'straight':
      return [at(0, 0), at(g.length_mm / 2, 0), at(g.length_mm, 0)];
    case 'half_arch':
      return along.map((s) => (s * Math.PI) / 2).map((a) => at(g.span_mm * (g.mirrored ? Math.cos(a) : 1 - Math.cos(a)), g.rise_mm * Math.sin(a)));
    case 'swag':
      // a parabola of the same sag, near enough to begin with
      return along.map((s) => at(s * g.span_mm, -4 * g.rise_mm * s * (1 - s)));
    case 'stair':
      return [at(0, 0), at(g.span_mm, g.rise_mm), ...(g.landing_mm > 0 ? [at(g.span_mm + g.landing_mm, g.rise_mm)] : [])];
    case 'hoop':
      // all but closed: from the foot round to just beside it
      return along.map((s) => -Math.PI / 2 + (s * 2 * Math.PI * BENT) / (BENT + 1)).map((a) => at((g.span_mm / 2) * (1 + Math.cos(a)), (g.rise_mm / 2) * (1 + Math.sin(a))));
    default:
      return along.map((s) => Math.PI * (1 - s)).map((a) => at((g.span_mm / 2) * (1 + Math.cos(a)), g.rise_mm * Math.sin(a)));
  }
}

/** How far past the last point a new one goes, mm. */
const ON_MM = 500;

/** A new point after the one at a place: halfway to the next, or on past the last in the same direction. */
export function pointAfter(points: readonly Point[], at: number): Point {
  const here = points[at];
  if (!here) return { x_mm: 0, y_mm: 0, z_mm: 0 };
  const next = points[at + 1];
  if (next) return between(here, next, 0.5);
  const before = points[at - 1];
  const length = before ? Math.hypot(here.x_mm - before.x_mm, here.y_mm - before.y_mm, here.z_mm - before.z_mm) : 0;
  return before && length > 0 ? between(before, here, 1 + ON_MM / length) : { ...pick(here), x_mm: here.x_mm + ON_MM };
}

const pick = ({ x_mm, y_mm, z_mm }: Point): Point => ({ x_mm, y_mm, z_mm });
const between = (a: Point, b: Point, part: number): Point => ({
  x_mm: Math.round(a.x_mm + part * (b.x_mm - a.x_mm)),
  y_mm: Math.round(a.y_mm + part * (b.y_mm - a.y_mm)),
  z_mm: Math.round(a.z_mm + part * (b.z_mm - a.z_mm)),
});
