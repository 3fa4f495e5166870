// The front view of a counted piece as circles and a path, in mm: x to the right, y down as SVG has it.
import type { ChainPlan, GarlandPlan } from '../../desk';
import { opposite, ring } from '../../parts/cluster';

/** A round of the drawing. */
export interface Dot {
  cx: number;
  cy: number;
  r: number;
  /** colour id */
  colour: string;
  /** which cluster of the line it belongs to, or which link of the chain */
  of: number;
}

/** A drawing with the box around it. */
export interface Scene {
  /** of the line, as the `d` of a path */
  line: string;
  dots: Dot[];
  box: { x: number; y: number; width: number; height: number };
}

/** Seen from the front, rounds that lie before and behind the line come closer to it: their distance is drawn smaller. */
const FLAT = 0.62;
/** Each cluster is turned a little against the one before, as hands nestle them: an eighth of a turn and a bit, radians. */
const TWIST = 0.92;
const MARGIN = 60;

/** A garland: each cluster's rounds about its tie. */
export function garlandScene(plan: GarlandPlan): Scene {
  const path = plan.path.map(([x, y]) => [x, -y] as const);
  const along = lengths(path);
  const dots: Dot[] = [];
  plan.clusters.forEach((cluster, i) => {
    const at = point(path, along, plan.ties_mm[i] ?? 0);
    const order = opposite(cluster.balls);
    const circles = ring(order.map((b) => b.blown_dmm / 20));
    order.forEach((ball, k) => {
      const c = circles[k];
      if (!c) return;
      const turn = i * TWIST;
      const x = c.cx * Math.cos(turn) - c.cy * Math.sin(turn);
      const y = c.cx * Math.sin(turn) + c.cy * Math.cos(turn);
      // along the line clusters nestle into each other; across it they keep their width
      const [u, v] = [x * FLAT * 0.7, y];
      dots.push({ cx: at.x + u * at.tx - v * at.ty, cy: at.y + u * at.ty + v * at.tx, r: c.r, colour: ball.colour, of: i });
    });
  });
  // large ones behind, so that small ones show; the same order each time
  dots.sort((a, b) => b.r - a.r);
  return scene(path, dots);
}

/** Chains: one is drawn, link by link. */
export function chainScene(plan: ChainPlan, blownDmm: number): Scene {
  const path = plan.path.map(([x, y]) => [x, -y] as const);
  const along = lengths(path);
  const total = along[along.length - 1] ?? 0;
  const n = plan.colours.length;
  const dots = plan.colours.map((colour, i) => {
    const at = point(path, along, (total * (i + 0.5)) / Math.max(1, n));
    return { cx: at.x, cy: at.y, r: Math.min(blownDmm / 20, total / Math.max(1, n) / 1.9), colour, of: i };
  });
  return scene(path, dots);
}

/** A frame: two posts and a bar. */
export function frameScene(width: number, height: number): Scene {
  const path = [[0, 0], [0, -height], [width, -height], [width, 0]] as const;
  return scene(path, []);
}

function scene(path: readonly (readonly [number, number])[], dots: Dot[]): Scene {
  const xs = [...path.map((p) => p[0]), ...dots.flatMap((d) => [d.cx - d.r, d.cx + d.r])];
  const ys = [...path.map((p) => p[1]), ...dots.flatMap((d) => [d.cy - d.r, d.cy + d.r])];
  const [left, right] = [min(xs) - MARGIN, max(xs) + MARGIN];
  const [top, bottom] = [min(ys) - MARGIN, max(ys) + MARGIN];
  return {
    line: path.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${Math.round(x)} ${Math.round(y)}`).join(''),
    dots,
    box: { x: left, y: top, width: right - left, height: bottom - top },
  };
}

// spread arguments overflow the stack on long garlands
const min = (list: readonly number[]) => list.reduce((a, b) => Math.min(a, b), list[0] ?? 0);
const max = (list: readonly number[]) => list.reduce((a, b) => Math.max(a, b), list[0] ?? 0);

function lengths(path: readonly (readonly [number, number])[]): number[] {
  let sum = 0;
  return path.map(([x, y], i) => {
    const before = path[i - 1];
    if (before) sum += Math.hypot(x - before[0], y - before[1]);
    return sum;
  });
}

/** The point at a distance along the path, and the direction there. */
function point(path: readonly (readonly [number, number])[], along: readonly number[], distance: number) {
  const after = along.findIndex((s) => s >= distance);
  const i = after === -1 ? path.length - 1 : Math.max(1, after);
  const [a, b] = [path[i - 1] ?? [0, 0], path[i] ?? [0, 0]];
  const step = (along[i] ?? 0) - (along[i - 1] ?? 0);
  const part = step > 0 ? Math.min(1, Math.max(0, (distance - (along[i - 1] ?? 0)) / step)) : 0;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return {
    x: a[0] + part * (b[0] - a[0]),
    y: a[1] + part * (b[1] - a[1]),
    tx: (b[0] - a[0]) / length,
    ty: (b[1] - a[1]) / length,
  };
}
