// Changes of single clusters by hand, as edits of a garland's `hand`: a map from a cluster's number in the recipe's
// line, counted from 0, to what the hand changed. The plan makes the changes in increasing number: a cluster is left out,
// or it is painted and put so many places along the line as it stands at that moment.
import type { Cluster, Edit, Garland, Hand, HandBall } from '../../desk';
import { add, live, remove, set } from '../../state/lists';

type Hands = Garland['hand'];
type Change = Partial<Omit<Hand, 'order' | 'gone'>>;

/** A cluster that nobody touched. */
const UNTOUCHED: Required<Change> = { shade: '', locked: false, balls: [], left_out: false, moved: 0 };

/** A place on the strip: a cluster of the line, or one that was left out of it. */
export interface Knot {
  /** the cluster's number in the recipe */
  number: number;
  /** its place on the line; null if it is left out */
  at: number | null;
  /** what was changed by hand; null if nothing was */
  hand: Hand | null;
}

/** The change of a cluster that holds; null if there is none. */
export function changeOf(hands: Hands, number: number): Hand | null {
  const hand = hands[String(number)];
  return hand && !hand.gone ? hand : null;
}

/** The line with what was left out of it, each of those before the next higher number that stands. */
export function knots(clusters: readonly Pick<Cluster, 'number'>[], hands: Hands): Knot[] {
  const line: Knot[] = clusters.map((c, at) => ({ number: c.number, at, hand: changeOf(hands, c.number) }));
  const out = live(hands)
    .filter((h) => h.left_out && /^\d+$/.test(h.id))
    .map((h): Knot => ({ number: Number(h.id), at: null, hand: h }))
    .filter((k) => !line.some((l) => l.number === k.number))
    .sort((a, b) => a.number - b.number);
  for (const knot of out) {
    const before = line.findIndex((l) => l.number > knot.number);
    // numbers past the end of a line that became shorter are of no cluster
    if (before >= 0) line.splice(before, 0, knot);
    else if (knot.number <= line.length) line.push(knot);
  }
  return line;
}

/** Changes one cluster. What comes back to how it falls by itself is taken off the map. */
export function changed(path: string[], hands: Hands, number: number, change: Change): Edit[] {
  const id = String(number);
  const stored = hands[id];
  const now = stored && !stored.gone ? stored : null;
  const next = { ...UNTOUCHED, ...(now ? whole(now) : {}), ...change };
  if (same(next, UNTOUCHED)) return now ? [remove(path, id)] : [];
  if (!stored) return [add(path, id, next)];
  // an id is used once: a change that was taken back is put back and written over
  const restore: Edit[] = now ? [] : [{ op: 'restore', part: 'job', path, id } as Edit];
  const fields = (Object.keys(UNTOUCHED) as (keyof Change)[]).filter((f) => !same(next[f], stored[f]));
  return [...restore, ...fields.map((f) => set([...path, id, f], next[f]))];
}

/** All changes by hand taken back. */
export const takenBack = (path: string[], hands: Hands): Edit[] => live(hands).map((h) => remove(path, h.id));

/** What a hand did to a cluster, in the order in which it is said. */
export function done({ hand }: Knot): ('painted' | 'locked' | 'moved')[] {
  if (!hand) return [];
  return [...(hand.shade ? (['painted'] as const) : []), ...(hand.balls.length > 0 ? (['locked'] as const) : []), ...(hand.moved !== 0 ? (['moved'] as const) : [])];
}

/** A cluster in one colour of the palette: fixed balls change their colour, others as they fall. */
export function painted(path: string[], hands: Hands, number: number, shade: string): Edit[] {
  const balls = changeOf(hands, number)?.balls ?? [];
  return balls.length > 0
    ? changed(path, hands, number, { shade: '', balls: balls.map((b) => ({ ...b, shade })) })
    : changed(path, hands, number, { shade });
}

/** The balls of a cluster as a hand keeps them; null if one of them has no colour of the palette. */
export function kept(cluster: Cluster, palette: Garland['palette']): HandBall[] | null {
  const shades = live(palette);
  const balls = cluster.balls.map((b): HandBall | null => {
    const shade = shades.find((s) => s.colour === b.colour && s.inside === b.inside);
    return shade ? { shade: shade.id, size_in: b.size_in, blown_dmm: b.blown_dmm } : null;
  });
  return balls.every((b) => b !== null) ? (balls as HandBall[]) : null;
}

/** Moves a cluster of the line to another place on it. Where changes lie across each other, those moved before get new
 *  figures too, so that the line comes out as it was seen, with this one cluster elsewhere. */
export function movedTo(path: string[], hands: Hands, clusters: readonly Pick<Cluster, 'number'>[], from: number, to: number): Edit[] {
  const wanted = clusters.map((c) => c.number);
  const [number] = wanted.splice(from, 1);
  if (number === undefined) return [];
  wanted.splice(Math.max(0, Math.min(wanted.length, to)), 0, number);
  const list = live(hands).filter((h) => /^\d+$/.test(h.id));
  const out = new Set(list.filter((h) => h.left_out).map((h) => Number(h.id)));
  const moving = new Set([...list.filter((h) => !h.left_out && h.moved !== 0).map((h) => Number(h.id)), number]);
  return [...places(wanted, out, moving)].flatMap(([n, moved]) => changed(path, hands, n, { moved }));
}

/** By how many places each of `moving` must be moved so that the line becomes `wanted`. The others must stand in
 *  increasing order in it. The changes are made one after the other, so each is reckoned on the line as it then is. */
export function places(wanted: readonly number[], out: ReadonlySet<number>, moving: ReadonlySet<number>): Map<number, number> {
  const rank = new Map(wanted.map((n, i) => [n, i]));
  const line = [...new Set([...wanted, ...out])].sort((a, b) => a - b);
  const found = new Map<number, number>();
  // what still waits for its turn stands where it falls by itself and says nothing about where others go
  const waiting = new Set([...moving, ...out]);
  for (const number of [...waiting].sort((a, b) => a - b)) {
    waiting.delete(number);
    const at = line.indexOf(number);
    if (at < 0) continue;
    line.splice(at, 1);
    if (out.has(number)) continue;
    const mine = rank.get(number) ?? 0;
    const settled = line.flatMap((n, i) => (waiting.has(n) ? [] : [{ i, rank: rank.get(n) ?? 0 }]));
    const before = settled.filter((s) => s.rank < mine).reduce((last, s) => Math.max(last, s.i + 1), 0);
    const after = settled.filter((s) => s.rank > mine).reduce((first, s) => Math.min(first, s.i), line.length);
    const to = Math.max(before, Math.min(after, at)); // of the places that serve, the nearest
    line.splice(to, 0, number);
    found.set(number, to - at);
  }
  return found;
}

const whole = ({ shade, locked, balls, left_out, moved }: Hand): Required<Change> => ({ shade, locked, balls, left_out, moved });
const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
