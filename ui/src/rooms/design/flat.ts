// The room seen straight from the front, as a drawing in mm: x to the right, y down as SVG has it.
import type { Ball, Panel, Room, Tube } from './room';

/** Air around a drawing, as a share of its larger side. */
const MARGIN = 0.04;
/** What begins within this height stands on the floor, and the floor is drawn with it, mm. */
const NEAR_FLOOR_MM = 600;

/** A box of a drawing, mm. */
export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** The box around a room. */
export function boxOf(room: Room, margin = MARGIN): Box {
  const [left, right] = [room.low[0] / 10, room.high[0] / 10];
  const low = room.low[1] / 10;
  const [top, bottom] = [-room.high[1] / 10, low < NEAR_FLOOR_MM ? Math.max(0, -low) : -low];
  const air = Math.max(right - left, bottom - top, 500) * margin;
  return { x: left - air, y: top - air, width: right - left + 2 * air, height: bottom - top + 2 * air };
}

/** What hangs low and wide needs less height. */
export const isLow = (box: Box): boolean => box.width > 1.8 * box.height;
/** What hangs straight needs less still. */
export const isThin = (box: Box): boolean => box.width > 2.6 * box.height;

/** The least that a drawing on which a path is shaped shows, mm: a hand needs room beside what is there. */
const [LEAST_WIDE_MM, LEAST_HIGH_MM] = [4000, 2600];
/** Air around what is shaped, as a share of its larger side. */
const ROOMY = 0.2;

/** The part of a front view in which one piece is shaped: it, its line, and the photograph under it; with the floor, if the
 *  piece is no higher above it than it is large. Other pieces are drawn where they reach into it. */
export function nearBox(room: Room, line: readonly (readonly [number, number])[], photo: Box | null): Box {
  const drawn = room.balls.length + room.tubes.length + room.panels.length > 0 ? [boxOf(room, 0)] : [];
  const boxes = [...drawn, ...line.map(([x, y]) => ({ x, y: -y, width: 0, height: 0 })), ...(photo ? [photo] : [])];
  if (boxes.length === 0) return { x: -LEAST_WIDE_MM / 2, y: -LEAST_HIGH_MM, width: LEAST_WIDE_MM, height: LEAST_HIGH_MM };
  const [left, right] = [Math.min(...boxes.map((b) => b.x)), Math.max(...boxes.map((b) => b.x + b.width))];
  const [top, low] = [Math.min(...boxes.map((b) => b.y)), Math.max(...boxes.map((b) => b.y + b.height))];
  const bottom = low < 0 && -low <= Math.max(right - left, low - top, LEAST_HIGH_MM) ? 0 : low;
  const air = Math.max(right - left, bottom - top) * ROOMY;
  const [width, height] = [Math.max(LEAST_WIDE_MM, right - left + 2 * air), Math.max(LEAST_HIGH_MM, bottom - top + 2 * air)];
  return { x: (left + right - width) / 2, y: (top + bottom - height) / 2, width, height };
}

/** Air around what is seen before the venue, as a share of its larger side: as much of the photograph shows. */
const VENUE_AIR = 0.3;

/** The box of a room before the venue's photograph: `all` of both, or the pieces with some of the venue about them. */
export function venueBox(room: Room, photo: Box, all: boolean): Box {
  if (!all) return boxOf(room, VENUE_AIR);
  const drawn = boxOf(room, 0);
  const [left, top] = [Math.min(drawn.x, photo.x), Math.min(drawn.y, photo.y)];
  const [right, bottom] = [Math.max(drawn.x + drawn.width, photo.x + photo.width), Math.max(drawn.y + drawn.height, photo.y + photo.height)];
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** A round of the drawing. */
export interface Dot {
  cx: number;
  cy: number;
  r: number;
  ball: Ball;
}

/** Balls from the furthest to the nearest, so that each is drawn over those behind it. */
export function dots(balls: readonly Ball[]): Dot[] {
  return [...balls].sort((a, b) => a.at[2] - b.at[2]).map((ball) => ({ cx: ball.at[0] / 10, cy: -ball.at[1] / 10, r: ball.r / 10, ball }));
}

/** The front-most ball at a point of the drawing; null where there is none. */
export function hit(list: readonly Dot[], x: number, y: number): Ball | null {
  for (let i = list.length - 1; i >= 0; i--) {
    const dot = list[i];
    if (dot && Math.hypot(dot.cx - x, dot.cy - y) <= dot.r) return dot.ball;
  }
  return null;
}

/** A rod as the `d` of a path. */
export const rod = (tube: Tube) => `M${mm(tube.from[0])} ${mm(-tube.from[1])}L${mm(tube.to[0])} ${mm(-tube.to[1])}`;

/** Rods of foil that stand before every balloon they meet in the drawing: they are drawn last. */
export function foremost(room: Room): Set<Tube> {
  const found = new Set<Tube>();
  const foils = room.tubes.filter((t) => t.what === 'foil');
  for (const piece of new Set(foils.map((t) => t.piece))) {
    const mine = foils.filter((t) => t.piece === piece);
    const ends = mine.flatMap((t) => [t.from, t.to]);
    const side = (axis: 0 | 1 | 2, pick: (...all: number[]) => number) => ends.reduce((best, at) => pick(best, at[axis]), ends[0]?.[axis] ?? 0);
    const meets = (b: Ball) => ([0, 1] as const).every((i) => b.at[i] + b.r > side(i, Math.min) && b.at[i] - b.r < side(i, Math.max));
    const z = side(2, Math.min);
    if (room.balls.every((b) => b.piece === piece || b.at[2] <= z || !meets(b))) mine.forEach((t) => found.add(t));
  }
  return found;
}

/** A panel as it covers the drawing: turned, it looks narrower by its turn and wider by its depth. */
export function face(panel: Panel): Box {
  const angle = (panel.turn_deg * Math.PI) / 180;
  const [wide, deep] = [panel.high[0] - panel.low[0], panel.high[2] - panel.low[2]];
  const width = (Math.abs(wide * Math.cos(angle)) + Math.abs(deep * Math.sin(angle))) / 10;
  const middle = (panel.low[0] + panel.high[0]) / 20;
  return { x: middle - width / 2, y: -panel.high[1] / 10, width, height: (panel.high[1] - panel.low[1]) / 10 };
}

const mm = (dmm: number) => Math.round(dmm / 10);
