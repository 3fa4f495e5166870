// Where a parcel stands, in words that somebody with both hands full can follow: which side, on what, against what.
import type { Space } from '../../desk';
import { length, text, type Units } from '../../format/units';
import { t } from '../../texts/t';
import { blockedBoxes, type Box, type Stood, type Trip } from './stowed';

/** Less than this apart, mm, counts as touching: bags give way. */
const TOUCHES_MM = 40;
/** What takes more of the width than this stands across it. */
const ACROSS = 0.75;
/** Its middle within these shares of the width is in the middle. */
const MIDDLE = [0.4, 0.6] as const;
/** Nearer to the door than this, mm, is by the door. */
const BY_DOOR_MM = 250;
/** So many neighbours are named. */
const NAMED = 2;
/** A side that is so much longer than the next one says how a thing lies. */
const LONGER = 1.25;

/** Where it stands: "Left, on the floor, at the cab end." */
export function whereWords(trip: Trip, stood: Stood, units: Units): string {
  const words = [side(trip.space, stood.box), under(trip, stood), along(trip, stood, units)];
  return sentence(words);
}

/** How it lies: "Lengthways, squeezed a little."; empty where nothing needs saying. */
export function layWords(stood: Stood): string {
  const { box, parcel, stow } = stood;
  const sides = [box.dx, box.dy, box.dz];
  const [longest = 0, next = 0] = [...sides].sort((a, b) => b - a);
  const words: string[] = [];
  if (longest >= next * LONGER) words.push([t('load.lengthways'), t('load.crossways'), t('load.on_end')][sides.indexOf(longest)] ?? '');
  if (stow.squeezed_pct > 0) words.push(t('load.squeezed', { share: `${stow.squeezed_pct} %` }));
  if (stow.folded) words.push(t('load.folded'));
  if (parcel.soft) words.push(t('load.nothing_on_top'));
  return words.length > 0 ? sentence(words) : '';
}

/** The codes of what stands on it, which goes in after it. */
export function above(trip: Trip, stood: Stood): string[] {
  return trip.stood.filter((o) => o !== stood && restsOn(o.box, stood.box)).map((o) => o.parcel.code);
}

function side(space: Space, box: Box): string {
  if (box.dy >= ACROSS * space.width_mm) return t('load.across');
  const middle = (box.y + box.dy / 2) / Math.max(1, space.width_mm);
  return middle < MIDDLE[0] ? t('load.left') : middle > MIDDLE[1] ? t('load.right') : t('load.middle');
}

function under(trip: Trip, { box }: Stood): string {
  if (box.z <= 0) return t('load.on_floor');
  const on = trip.stood.filter((o) => restsOn(box, o.box));
  if (on.length > 0) return t('load.on', { what: named(on.map((o) => o.parcel.code)) });
  return blockedBoxes(trip.space).some((b) => restsOn(box, b)) ? t('load.on_arch') : t('load.above_floor');
}

function along(trip: Trip, { box }: Stood, units: Units): string {
  const { length_mm } = trip.space;
  if (box.x <= TOUCHES_MM) return t('load.at_cab');
  const before = trip.stood.filter((o) => o.box !== box && overlap(o.box, box, 'y') && overlap(o.box, box, 'z') && Math.abs(o.box.x + o.box.dx - box.x) <= TOUCHES_MM);
  const against = before.length > 0 ? t('load.against', { what: named(before.map((o) => o.parcel.code)) }) : '';
  const door = length_mm - box.x - box.dx <= BY_DOOR_MM ? t('load.by_door') : '';
  if (against || door) return [against, door].filter(Boolean).join(', ');
  return t('load.from_cab', { far: text(length(box.x, units)) });
}

/** One rests on the other: its base at the other's top, over some of it. */
function restsOn(upper: Box, lower: Box): boolean {
  return Math.abs(upper.z - lower.z - lower.dz) <= 1 && overlap(upper, lower, 'x') && overlap(upper, lower, 'y');
}

function overlap(a: Box, b: Box, axis: 'x' | 'y' | 'z'): boolean {
  const side = `d${axis}` as const;
  return Math.min(a[axis] + a[side], b[axis] + b[side]) - Math.max(a[axis], b[axis]) > 0;
}

/** "C2", "C2 and C3", "C2, C3 and more". */
function named(codes: string[]): string {
  const [first = '', second = ''] = codes;
  if (codes.length <= 1) return first;
  return codes.length <= NAMED ? t('load.two', { first, second }) : t('load.two_more', { first, second });
}

/** Words with commas between them, the first with a capital. */
function sentence(words: string[]): string {
  const line = words.filter(Boolean).join(', ');
  return line.charAt(0).toUpperCase() + line.slice(1);
}
