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

/** The largest round has this radius in the units of the patterns: they come out as fine as in a swatch. */
const FULL = 25;
/** Beside a large round a small one is drawn no smaller than this radius: below it nobody sees its colour. */
const SEEN = 4.5;
/** Room around a drawing, in the same units. */
export const MARGIN = 1.5;

/** One scale for all clusters of a piece, and the box that holds each of them. */
export interface Scale {
  /** diameter that is drawn with the full radius, in any unit */
  largest: number;
  width: number;
  height: number;
}

/** The circles of a cluster about its knot, each with its round. Alone its largest round is drawn full; by a piece's scale all its
 *  clusters are in true proportion to each other, and the largest round comes to the top, so that they are high rather than wide. */
export function lay<T extends { diameter: number }>(pairs: readonly T[], scale?: Scale): { round: T; c: Circle }[] {
  const about = opposite(pairs);
  const largest = Math.max(1, scale?.largest ?? 0, ...(scale ? [] : pairs.map((r) => r.diameter)));
  const first = scale ? about.reduce((best, r, i) => (r.diameter > (about[best]?.diameter ?? 0) ? i : best), 0) : 0;
  const order = [...about.slice(first), ...about.slice(0, first)];
  const circles = ring(order.map((r) => Math.max(scale ? SEEN : 0, (r.diameter / largest) * FULL)));
  return order.flatMap((round, i) => (circles[i] ? [{ round, c: circles[i] }] : []));
}

/** The scale that all these clusters can be drawn by. */
export function scaleOf(clusters: readonly (readonly { diameter: number }[])[]): Scale {
  const scale = { largest: Math.max(1, ...clusters.flat().map((r) => r.diameter)), width: 1, height: 1 };
  for (const cluster of clusters) {
    if (cluster.length === 0) continue;
    const view = box(lay(cluster, scale).map((l) => l.c), MARGIN);
    scale.width = Math.max(scale.width, view.width);
    scale.height = Math.max(scale.height, view.height);
  }
  return scale;
}

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
