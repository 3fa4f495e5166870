// What a picture shows: the scene of a plan, and parts of it. Tenths of a millimetre; x to the right, y up, z to the viewer.
import type { Job, Scene, SceneBall, ScenePanel, SceneTube } from '../../desk';
import { live } from '../../state/lists';
import { carrierId, type Foot } from './place';

export type Ball = SceneBall;
export type Tube = SceneTube;
export type Panel = ScenePanel;
/** A point, dmm. */
export type Spot = [number, number, number];
/** Balls, rods and panels in one room, with the corners of all of it. */
export type Room = Pick<Scene, 'balls' | 'tubes' | 'panels' | 'low' | 'high'>;

/** Air between pieces that are set side by side, dmm. */
const BETWEEN = 5000;

/** The same room with one piece, and the frame that it hangs on. A garland has the foils that are put into it, and they have their garland. */
export function only(room: Room, job: Job, piece: string): Room {
  const known = (id: string) => (job.pieces[id]?.gone ? undefined : job.pieces[id]);
  /** the garland that foils are put into */
  const into = (id: string) => {
    const foils = known(id);
    return foils?.kind === 'foils' && foils.foils.stand === 'in_garland' && known(foils.on) ? foils.on : '';
  };
  const whole = into(piece) || piece;
  const on = job.pieces[whole]?.on ?? '';
  const shown = (id: string) => id === whole || into(id) === whole;
  return some(room, (id) => shown(id) || id === on, shown);
}

/** Where the job places nothing, its pieces stand side by side in their order, each with what hangs on it. */
export function staged(room: Room, job: Job): Room {
  const pieces = live(job.pieces);
  if (pieces.some((p) => p.x_mm !== 0 || p.y_mm !== 0 || p.z_mm !== 0 || p.turn_deg !== 0)) return room;
  const group = new Map(pieces.map((p) => [p.id, carrierId(job, p) || p.id]));
  const by = new Map<string, number>();
  let right: number | null = null;
  for (const { id } of pieces) {
    if (group.get(id) !== id) continue;
    const part = some(room, (other) => group.get(other) === id);
    if (part.balls.length + part.tubes.length + part.panels.length === 0) continue;
    const shift: number = right === null ? 0 : right + BETWEEN - part.low[0];
    right = part.high[0] + shift;
    by.set(id, shift);
  }
  const aside = (piece: string, [x, y, z]: Spot): Spot => [x + (by.get(group.get(piece) ?? '') ?? 0), y, z];
  return bounded({
    ...room,
    balls: room.balls.map((b) => ({ ...b, at: aside(b.piece, b.at) })),
    tubes: room.tubes.map((t) => ({ ...t, from: aside(t.piece, t.from), to: aside(t.piece, t.to) })),
    panels: room.panels.map((p) => ({ ...p, low: aside(p.piece, p.low), high: aside(p.piece, p.high) })),
  });
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

function some(room: Room, kept: (piece: string) => boolean, balls = kept): Room {
  return bounded({
    ...room,
    balls: room.balls.filter((b) => balls(b.piece)),
    tubes: room.tubes.filter((t) => kept(t.piece)),
    panels: room.panels.filter((p) => kept(p.piece)),
  });
}

/** With the corners of all that is in it. */
function bounded(room: Room): Room {
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
