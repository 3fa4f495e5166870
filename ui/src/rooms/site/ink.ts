// The way of a pen as the job keeps it: whole numbers in a box of 3000 by 1000, `x y x y;x y`.

/** The box that a signature is written in, units. */
export const WIDE = 3000;
export const HIGH = 1000;
/** A point nearer than this to the one before says nothing more, units. */
const NEAR = 4;
/** The most points that are kept. */
const MOST = 18_000;

/** A stroke: points in the box. */
export type Stroke = [number, number][];

/** A place on a drawn box as a point of ours; outside it lies on the edge. */
export function point(x: number, y: number, box: { left: number; top: number; width: number; height: number }): [number, number] {
  const unit = (at: number, from: number, size: number, units: number) => Math.min(units, Math.max(0, Math.round(((at - from) / Math.max(1, size)) * units)));
  return [unit(x, box.left, box.width, WIDE), unit(y, box.top, box.height, HIGH)];
}

/** The strokes with one more point in the last; unchanged where it says nothing more or there are too many. */
export function longer(strokes: Stroke[], at: [number, number]): Stroke[] {
  const stroke = strokes[strokes.length - 1];
  const last = stroke?.[stroke.length - 1];
  if (!stroke || strokes.reduce((n, s) => n + s.length, 0) >= MOST) return strokes;
  if (last && Math.hypot(last[0] - at[0], last[1] - at[1]) < NEAR) return strokes;
  return [...strokes.slice(0, -1), [...stroke, at]];
}

export const written = (strokes: readonly Stroke[]) => strokes.map((s) => s.map(([x, y]) => `${x} ${y}`).join(' ')).join(';');

/** The `d` of a path for strokes as they are kept; what cannot be read draws nothing. */
export function drawn(text: string): string {
  return text
    .split(';')
    .map((stroke) => {
      const n = stroke.split(' ').map(Number);
      if (stroke === '' || n.some((v) => !Number.isInteger(v)) || n.length % 2 !== 0) return '';
      const points = n.flatMap((x, i) => (i % 2 === 0 ? [`${x} ${n[i + 1]}`] : []));
      // a dot is a line of no length, which round ends make a dot
      return `M${points.join('L')}${points.length === 1 ? `L${points[0]}` : ''}`;
    })
    .join('');
}
