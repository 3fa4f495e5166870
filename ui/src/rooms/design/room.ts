// What a picture shows, in one room: balls, rods and panels. Tenths of a millimetre; x to the right, y up, z to the viewer.
import type { Job, Piece, PiecePlan, Plan } from '../../desk';
import { footOf, pathOf, type Foot } from './place';

/** A point, dmm. */
export type Spot = [number, number, number];

export interface Ball {
  at: Spot;
  r: number;
  /** colour id */
  colour: string;
  /** piece id */
  piece: string;
  /** its cluster along the line; -1 if it is in none */
  cluster: number;
  kind: 'line' | 'filler' | 'link' | 'made';
}

export interface Tube {
  from: Spot;
  to: Spot;
  r: number;
  what: 'frame' | 'line' | 'foil' | 'ribbon' | 'stick';
  srgb: string;
  piece: string;
}

export interface Panel {
  low: Spot;
  high: Spot;
  turn_deg: number;
  what: 'backdrop' | 'foot';
  srgb: string;
  piece: string;
}

/** Everything to be seen. */
export interface Room {
  balls: Ball[];
  tubes: Tube[];
  panels: Panel[];
  low: Spot;
  high: Spot;
}

const STEEL = '#6d6a63';
const CORD = '#efece4';
const POST_R = 160;
const CORD_R = 15;
/** The golden angle: clusters that were not packed are turned by it, so that no rows form. */
const TURN = Math.PI * (3 - Math.sqrt(5));
/** Rounds that were not packed press into each other by so much. */
const NESTLE = 0.86;

/** The room of a plan. */
export function roomOf(job: Job, plan: Plan): Room {
  const room: Room = { balls: [], tubes: [], panels: [], low: [0, 0, 0], high: [0, 0, 0] };
  for (const counted of plan.pieces) {
    const piece = job.pieces[counted.piece];
    if (piece) set(room, job, plan, piece, counted);
  }
  return bounded(room);
}

/** The same room with one piece, and the frame that it hangs on. */
export function only(room: Room, piece: string, on: string): Room {
  const kept = (t: { piece: string }) => t.piece === piece || (on !== '' && t.piece === on);
  return bounded({ ...room, balls: room.balls.filter((b) => b.piece === piece), tubes: room.tubes.filter(kept), panels: room.panels.filter(kept) });
}

/** The same room turned so that a piece is seen square from its own front, its foot where it is. */
export function squared(room: Room, foot: Foot): Room {
  if (foot.turn_deg % 360 === 0) return room;
  const angle = (foot.turn_deg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const turned = ([x, y, z]: Spot): Spot => {
    const [dx, dz] = [x - foot.x * 10, z - foot.z * 10];
    return [foot.x * 10 + dx * cos - dz * sin, y, foot.z * 10 + dx * sin + dz * cos];
  };
  return bounded({
    ...room,
    balls: room.balls.map((b) => ({ ...b, at: turned(b.at) })),
    tubes: room.tubes.map((t) => ({ ...t, from: turned(t.from), to: turned(t.to) })),
    // a panel turns about its own middle, as it is kept
    panels: room.panels.map((p) => {
      const middle = turned([0, 1, 2].map((i) => ((p.low[i] ?? 0) + (p.high[i] ?? 0)) / 2) as Spot);
      const half = [0, 1, 2].map((i) => ((p.high[i] ?? 0) - (p.low[i] ?? 0)) / 2);
      const corner = (sign: number) => middle.map((m, i) => m + sign * (half[i] ?? 0)) as Spot;
      return { ...p, low: corner(-1), high: corner(1), turn_deg: p.turn_deg - foot.turn_deg };
    }),
  });
}

/** With the corners of all that is in it. */
export function bounded(room: Room): Room {
  const low: Spot = [Infinity, Infinity, Infinity];
  const high: Spot = [-Infinity, -Infinity, -Infinity];
  const take = (at: Spot, r: number) => {
    for (const i of [0, 1, 2] as const) {
      low[i] = Math.min(low[i], at[i] - r);
      high[i] = Math.max(high[i], at[i] + r);
    }
  };
  for (const b of room.balls) take(b.at, b.r);
  for (const t of room.tubes) [t.from, t.to].forEach((at) => take(at, t.r));
  for (const p of room.panels) [p.low, p.high].forEach((at) => take(at, 0));
  return { ...room, low: low.map(finite) as Spot, high: high.map(finite) as Spot };
}

const finite = (n: number) => (Number.isFinite(n) ? n : 0);

type Put = (x: number, y: number, z: number) => Spot;

/** A point of a piece in the room. Seen from above the piece is turned against the clock. */
function placed(foot: Foot): Put {
  const angle = (foot.turn_deg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return (x, y, z) => [foot.x * 10 + x * cos + z * sin, foot.y * 10 + y, foot.z * 10 + z * cos - x * sin];
}

function set(room: Room, job: Job, plan: Plan, piece: Piece, counted: PiecePlan): void {
  const own: Foot = { x: piece.x_mm, y: piece.y_mm, z: piece.z_mm, turn_deg: piece.turn_deg, centred: false };
  const id = counted.piece;
  if (counted.garland) garland(room, id, counted.garland, placed(footOf(job, piece, pathOf(piece))));
  if (counted.chain) {
    const { chain } = counted;
    const put = placed({ ...own, y: own.y || 2100 });
    const n = Math.max(1, chain.colours.length);
    const pitch = length(chain.path) / n;
    chain.colours.forEach((colour, i) => {
      const [x, y] = walk(chain.path, pitch * (i + 0.5)).at;
      room.balls.push({ at: put(x * 10, y * 10, 0), r: pitch * 4.9, colour, piece: id, cluster: -1, kind: 'link' });
    });
  }
  if (counted.frame) frame(room, job, plan, id, counted.frame, placed(own));
  if (counted.made) {
    const put = placed(own);
    for (const b of counted.made.balls_drawn) room.balls.push({ ...b, at: put(...b.at), piece: id, cluster: -1, kind: 'made' });
    for (const r of counted.made.rods_drawn) {
      const srgb = (r.colour && job.colours[r.colour]?.srgb) || STEEL;
      room.tubes.push({ from: put(...r.from), to: put(...r.to), r: r.r, what: r.colour ? 'foil' : 'stick', srgb, piece: id });
    }
  }
}

function garland(room: Room, piece: string, plan: NonNullable<PiecePlan['garland']>, put: Put): void {
  const packed = plan.packed.length === plan.clusters.reduce((n, c) => n + c.balls.length, 0);
  let first = 0;
  plan.clusters.forEach((cluster, n) => {
    const { at, along } = walk(plan.path, plan.ties_mm[n] ?? 0);
    const whole = cluster.balls.reduce((sum, b) => sum + b.blown_dmm / 2, 0);
    let angle = TURN * n;
    cluster.balls.forEach((ball, k) => {
      const spot = packed ? plan.packed[first + k] : undefined;
      const r = spot?.r ?? ball.blown_dmm / 2;
      const share = (Math.PI * r) / Math.max(1, whole);
      angle += share;
      const off = (NESTLE * r) / Math.sin(Math.min(Math.PI / 2, Math.max(0.35, share)));
      const [a, across, front] = [(k % 2 === 0 ? 0.22 : -0.22) * r, off * Math.cos(angle), off * Math.sin(angle)];
      angle += share;
      const beside = put(at[0] * 10 + along[0] * a - along[1] * across, at[1] * 10 + along[1] * a + along[0] * across, front);
      room.balls.push({ at: spot ? put(...spot.at) : beside, r, colour: ball.colour, piece, cluster: n, kind: 'line' });
    });
    first += cluster.balls.length;
  });
  for (const f of plan.fillers_at) room.balls.push({ at: put(...f.at), r: f.r, colour: f.colour, piece, cluster: f.cluster, kind: 'filler' });
  rods(room, plan.path, put, { r: CORD_R, what: 'line', srgb: CORD, piece });
}

function frame(room: Room, job: Job, plan: Plan, id: string, counted: NonNullable<PiecePlan['frame']>, put: Put): void {
  const carried = plan.pieces.find((p) => p.garland && job.pieces[p.piece]?.on === id && ['arch', 'hoop'].includes(job.pieces[p.piece]?.garland.shape ?? ''));
  const { width_mm: w, height_mm: h } = counted;
  const path = carried?.garland?.path;
  const xs = path?.map((p) => p[0]) ?? [];
  const shift = w / 2 - (Math.min(...xs) + Math.max(...xs)) / 2;
  const bent = path?.map(([x, y]): [number, number] => [x + shift, y]);
  rods(room, bent ?? [[0, 0], [0, h], [w, h], [w, 0]], put, { r: POST_R, what: 'frame', srgb: STEEL, piece: id });
}

function rods(room: Room, path: readonly (readonly [number, number])[], put: Put, rest: Omit<Tube, 'from' | 'to'>): void {
  path.slice(1).forEach((b, i) => {
    const a = path[i] ?? b;
    room.tubes.push({ from: put(a[0] * 10, a[1] * 10, 0), to: put(b[0] * 10, b[1] * 10, 0), ...rest });
  });
}

type Flat = readonly (readonly [number, number])[];

const length = (path: Flat) => path.reduce((sum, p, i) => sum + Math.hypot(p[0] - (path[i - 1] ?? p)[0], p[1] - (path[i - 1] ?? p)[1]), 0);

/** The point at a way along a path, and the direction there. */
function walk(path: Flat, way: number): { at: [number, number]; along: [number, number] } {
  let left = way;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1] ?? [0, 0], path[i] ?? [0, 0]];
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (step > 0 && (left <= step || i === path.length - 1)) {
      const along: [number, number] = [(b[0] - a[0]) / step, (b[1] - a[1]) / step];
      return { at: [a[0] + along[0] * left, a[1] + along[1] * left], along };
    }
    left -= step;
  }
  return { at: [way, 0], along: [1, 0] };
}
