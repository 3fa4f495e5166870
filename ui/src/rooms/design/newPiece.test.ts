import { describe, expect, test } from 'vitest';
import type { Job, Piece } from '../../desk';
import { copyOf, GROUPS, newPiece } from './newPiece';
import { even, organic, SIZES } from './sizes';

const colour = (name: string, order: string) => ({ name, srgb: '#d9798a', pattern: 'plain' as const, source: '', order, gone: false });
const job = { colours: { b: colour('Ivory', '82'), a: colour('Old rose', '81'), c: colour('Moss', '83'), d: colour('Ink', '84') }, pieces: {} } as unknown as Job;
let count = 0;
const id = () => `id${count++}`;
const kinds = GROUPS.flatMap((g) => g.kinds);

/** Every map of shares inside a value. */
function shares(value: unknown): number[][] {
  if (typeof value !== 'object' || value === null) return [];
  const inner = Object.values(value);
  const own = inner.flatMap((v) => (typeof v === 'object' && v !== null && 'share_pct' in v ? [Number(v.share_pct)] : []));
  return own.length > 0 ? [own] : inner.flatMap(shares);
}

describe('new pieces', () => {
  test('all sixteen are offered once', () => {
    expect(kinds.length).toBe(16);
    expect(new Set(kinds).size).toBe(16);
  });
  test.each(kinds)('%s: shares are whole and make 100', (kind) => {
    for (const list of shares(newPiece(kind, 'New', job, id))) {
      expect(list.every(Number.isInteger)).toBe(true);
      expect(list.reduce((a, b) => a + b, 0)).toBe(100);
    }
  });
  test('the palette is of the first colours of the job, in their order', () => {
    const garland = newPiece('garland', 'Garland', job, id).garland as { palette: Record<string, { colour: string }>; points: object; hand: object };
    expect(Object.values(garland.palette).map((s) => s.colour)).toEqual(['a', 'b', 'c']);
    expect([garland.points, garland.hand]).toEqual([{}, {}]);
    // a new one looks full
    expect(garland).toMatchObject({ show_pct: 3 });
  });
  test('colours that were taken out of the first piece are not brought back by a new one', () => {
    const entry = (colour: string, order: string, more = {}) => ({ colour, share_pct: 50, inside: '', order, gone: false, ...more });
    const garland = { palette: { x: entry('d', '81'), y: entry('a', '80', { gone: true }), z: entry('c', '82'), w: entry('gone', '83') } };
    const frame = { name: 'Frame', kind: 'frame', x_mm: 0, frame: { count: 1, width_mm: 2000 }, order: '79', gone: false };
    const made = { name: 'Arch', kind: 'garland', x_mm: 0, garland: { ...garland, points: {} }, order: '80', gone: false };
    const column = newPiece('column', 'Column', { ...job, pieces: { f: frame, g: made } } as unknown as Job, id).classic as { palette: Record<string, { colour: string }>; topper_colour: string };
    expect(Object.values(column.palette).map((s) => s.colour)).toEqual(['d', 'c']);
    expect(column.topper_colour).toBe('d');
  });
  test('a name that is taken gets a number, and the piece stands before the others where their row is full', () => {
    const stands = { name: 'Frame', kind: 'frame', x_mm: 500, frame: { count: 4, width_mm: 2200 }, order: '80', gone: false };
    const made = newPiece('frame', 'Frame', { ...job, pieces: { f: stands, g: { ...stands, name: 'Frame 2', gone: true } } } as unknown as Job, id);
    expect(made.name).toBe('Frame 2');
    // 500 and four of 2,200 with 300 between, then 600 of air: there it would end beyond 12 m of row
    expect([made.x_mm, made.z_mm]).toEqual([500, 2000]);
    expect(newPiece('column', 'Column', { ...job, pieces: { f: stands } } as unknown as Job, id)).toMatchObject({ x_mm: 500 + 9700 + 600, z_mm: 0 });
  });
  test('nothing is blown past its nominal size', () => {
    for (const n of SIZES) {
      const { from_dmm, to_dmm } = organic(n);
      expect(from_dmm).toBeLessThanOrEqual(to_dmm);
      expect(Math.max(to_dmm, even(n))).toBeLessThanOrEqual(n * 254);
      expect(Math.min(from_dmm, even(n))).toBeGreaterThan(0);
    }
  });
});

test('another piece like one is as it is, under a name of its own, beside it and on no frame', () => {
  const garland = { name: 'Garland 2', kind: 'garland', on: 'f', x_mm: 0, z_mm: 0, y_mm: 400, apart_mm: 0, order: '83', gone: false, garland: { shape: 'straight', length_mm: 3000, points: {}, palette: { p: { colour: 'a' } } } } as unknown as Piece;
  const made = copyOf({ ...garland, id: 'g' }, { pieces: { g: { ...garland, on: '' } } });
  expect(made).toMatchObject({ name: 'Garland', kind: 'garland', on: '', y_mm: 400, x_mm: 3600, garland: { palette: { p: { colour: 'a' } } } });
  expect(['id', 'order', 'gone'].filter((key) => key in made)).toEqual([]);
  const foil = { name: '5', kind: 'foils', on: 'g', x_mm: 0, z_mm: 0, foils: { stand: 'in_garland', along_mm: 900 } } as unknown as Piece;
  expect(copyOf(foil, { pieces: { foil } })).toMatchObject({ name: '5 2', on: 'g', foils: { along_mm: 900 } });
});
