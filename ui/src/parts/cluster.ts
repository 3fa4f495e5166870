// Where the rounds of a cluster lie when it is seen along the line: a ring about the knot.

/** A circle of the drawing. */
export interface Circle {
  cx: number;
  cy: number;
  r: number;
}

/** How far out from the knot rounds lie, as a share of where they would just touch: tied tight, they press together. */
const TIGHT = 0.72;
/** Steps of halving: 2⁻⁴⁰ of the largest round is far below what can be seen. */
const HALVINGS = 40;

/** Pair by pair becomes round by round about the knot: the two of a pair lie opposite each other, as they are tied. */
export function opposite<T>(pairs: readonly T[]): T[] {
  const firsts = pairs.filter((_, i) => i % 2 === 0);
  const seconds = pairs.filter((_, i) => i % 2 === 1);
  return [...firsts, ...seconds];
}

/** A ring of circles with the given radii about (0, 0), in this order from the top clockwise. With `tight` 1 each touches
 *  its neighbours and a circle in the middle; below it they press together. Two lie side by side, one lies in the middle. */
export function ring(radii: readonly number[], tight = TIGHT): Circle[] {
  const n = radii.length;
  if (n === 1) return [{ cx: 0, cy: 0, r: radii[0] ?? 0 }];
  const at = (i: number) => radii[(i + n) % n] ?? 0;
  // the larger the middle circle, the less of the turn the ring takes: find the one where it takes exactly one turn
  const turn = (middle: number) => radii.reduce((sum, _, i) => sum + angle(at(i), at(i + 1), middle), 0);
  let [small, large] = [0, Math.max(...radii) * n];
  for (let k = 0; k < HALVINGS; k++) {
    const half = (small + large) / 2;
    if (turn(half) > 2 * Math.PI) small = half;
    else large = half;
  }
  const middle = n === 2 ? 0 : (small + large) / 2;
  let direction = n === 2 ? Math.PI : -Math.PI / 2;
  return radii.map((r, i) => {
    const out = middle * tight + r;
    const circle = { cx: out * Math.cos(direction), cy: out * Math.sin(direction), r };
    direction += n === 2 ? Math.PI : angle(r, at(i + 1), middle);
    return circle;
  });
}

/** The box around circles, with a margin. */
export function box(circles: readonly Circle[], margin: number): { x: number; y: number; width: number; height: number } {
  const x = Math.min(...circles.map((c) => c.cx - c.r)) - margin;
  const y = Math.min(...circles.map((c) => c.cy - c.r)) - margin;
  return {
    x,
    y,
    width: Math.max(...circles.map((c) => c.cx + c.r)) + margin - x,
    height: Math.max(...circles.map((c) => c.cy + c.r)) + margin - y,
  };
}

/** The angle at the middle between two touching circles that both touch the middle circle: law of cosines. */
function angle(a: number, b: number, middle: number): number {
  const [p, q] = [middle + a, middle + b];
  const cosine = (p * p + q * q - (a + b) ** 2) / (2 * p * q);
  return Math.acos(Math.max(-1, Math.min(1, cosine)));
}
