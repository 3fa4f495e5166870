// The clock along a row of bars. Places are by real time, words by the wall clock of the venue: an hour that happens twice stands
// there twice, an hour that is left out takes no room.
import { wallAt } from '../../format/time';

const WALL = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/;
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
/** What is moved by hand stands at whole steps, ms. */
export const STEP = 5 * MINUTE;
/** Every zone lies a whole number of quarters of an hour from UTC, and changes its clock at one. */
const QUARTER = 15 * MINUTE;
/** Work that begins longer after what went before than this is a stretch of its own. */
const APART = 3 * HOUR;

/** A full hour on the axis. */
export interface Hour {
  ms: number;
  /** wall clock, `YYYY-MM-DDTHH:MM` */
  wall: string;
  /** the second time that this hour comes on that day */
  again: boolean;
}

/** A moment at which the clocks are changed. */
export interface Change {
  ms: number;
  /** minutes that are left out; negative: that come twice */
  minutes: number;
  /** the wall clock after it */
  wall: string;
}

/** An agreed moment. */
export interface Post {
  ms: number;
  word: string;
}

export interface Axis {
  from: number;
  to: number;
  hours: Hour[];
  changes: Change[];
}

/** How far the wall clock of a zone is from UTC at an instant, ms. */
function offset(ms: number, zone: string): number {
  const wall = wallAt(ms, zone);
  return Date.parse(`${wall}:00Z`) - Math.floor(ms / MINUTE) * MINUTE;
}

/** The axis from one instant to another, both widened to the quarter of an hour. */
export function axis(from: number, to: number, zone: string): Axis {
  const begin = Math.floor(from / QUARTER) * QUARTER;
  const end = Math.max(begin + QUARTER, Math.ceil(to / QUARTER) * QUARTER);
  const hours: Hour[] = [];
  const changes: Change[] = [];
  let before = offset(begin - QUARTER, zone);
  for (let ms = begin; ms <= end; ms += QUARTER) {
    const now = offset(ms, zone);
    const wall = wallAt(ms, zone);
    if (now !== before && !Number.isNaN(now)) changes.push({ ms, minutes: (now - before) / MINUTE, wall });
    if (wall.endsWith(':00')) hours.push({ ms, wall, again: hours.some((h) => h.wall === wall) });
    before = now;
  }
  return { from: begin, to: end, hours, changes };
}

/** What is placed in time. */
export interface Timed {
  start: number;
  end: number;
}

/** A run of work without a long pause: a day, or an evening of its own. */
export interface Stretch<T extends Timed> {
  from: number;
  to: number;
  items: T[];
}

/** Work in order of start, cut where nothing goes on for hours. What happens over midnight stays together. */
export function stretches<T extends Timed>(items: readonly T[]): Stretch<T>[] {
  const list: Stretch<T>[] = [];
  for (const item of [...items].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const last = list[list.length - 1];
    if (last && item.start - last.to < APART) {
      last.items.push(item);
      last.to = Math.max(last.to, item.end);
    } else list.push({ from: item.start, to: item.end, items: [item] });
  }
  return list;
}

/** So many px to the minute that everything fits into `room`, unless the shortest thing would be smaller than `least`. */
export function scale(items: readonly Timed[], from: number, to: number, room: number, least: number, most: number): number {
  const fit = room / Math.max(1, (to - from) / MINUTE);
  const shortest = Math.min(...items.map((i) => (i.end - i.start) / MINUTE).filter((m) => m > 0), 60);
  return Math.max(fit, Math.min(most, least / shortest));
}

/** Where moments lie along the clock, px, and which moment lies where. */
export interface Clock {
  length: number;
  at: (ms: number) => number;
  ms: (px: number) => number;
}

/** A clock of so many px to the minute, stretched where something is so short that it would take less than `least`: a finger has to hit it. */
export function stretched(items: readonly Timed[], from: number, to: number, perMin: number, least: number): Clock {
  const marks = [...new Set([from, to, ...items.flatMap((i) => [i.start, i.end])])].filter((ms) => ms >= from && ms <= to).sort((a, b) => a - b);
  const spans = marks.slice(1).map((end, i) => ({ start: marks[i] as number, end, px: ((end - (marks[i] as number)) / MINUTE) * perMin }));
  for (const item of [...items].sort((a, b) => a.end - a.start - (b.end - b.start))) {
    const inside = spans.filter((s) => s.start >= item.start && s.end <= item.end);
    const missing = least - inside.reduce((sum, s) => sum + s.px, 0);
    if (missing > 0) for (const s of inside) s.px += (missing * (s.end - s.start)) / (item.end - item.start);
  }
  const edges = [0];
  for (const s of spans) edges.push((edges[edges.length - 1] as number) + s.px);
  const length = edges[edges.length - 1] as number;
  /** From one of two rising lists to the other; past the ends by the plain scale. */
  const across = (x: number, one: readonly number[], other: readonly number[], slope: number): number => {
    const last = one.length - 1;
    if (x <= (one[0] as number)) return (other[0] as number) + (x - (one[0] as number)) * slope;
    if (x >= (one[last] as number)) return (other[last] as number) + (x - (one[last] as number)) * slope;
    const i = one.findIndex((v) => v > x);
    const [a, b, c, d] = [one[i - 1], one[i], other[i - 1], other[i]] as [number, number, number, number];
    return c + ((x - a) / (b - a)) * (d - c);
  };
  return { length, at: (ms) => across(ms, marks, edges, perMin / MINUTE), ms: (px) => across(px, edges, marks, MINUTE / perMin) };
}

/** Downward the words of two posts share a narrow margin: each takes `line` px, and the later one makes room by `shift`. */
export function postsPlaced(posts: readonly Post[], at: (ms: number) => number, line: number): (Post & { shift: number })[] {
  let last = -Infinity;
  return posts.map((post) => {
    last = Math.max(at(post.ms), last + line);
    return { ...post, shift: last - at(post.ms) };
  });
}

/** The wall time to pin at: so many steps of five minutes on from an instant, on the grid of five minutes. */
export function moved(ms: number, steps: number, zone: string): string {
  const at = steps < 0 ? Math.ceil(ms / STEP) : Math.floor(ms / STEP);
  return wallAt((at + steps) * STEP, zone);
}

/** The instant of a wall time, as the plan takes it: the first of an hour that comes twice; what is left out moves forward. Null if it is none. */
export function instantAt(wall: string, zone: string): number | null {
  const utc = Date.parse(`${wall}:00Z`);
  if (!WALL.test(wall) || Number.isNaN(utc) || wallAt(0, zone) === '') return null;
  const DAY = 24 * HOUR;
  // the clock before and after any change that may lie near
  const offsets = [offset(utc - DAY, zone), offset(utc + DAY, zone)];
  const found = offsets.map((o) => utc - o).filter((ms) => wallAt(ms, zone) === wall);
  return found.length > 0 ? Math.min(...found) : utc - (offsets[0] ?? 0);
}
