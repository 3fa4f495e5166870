import { expect, test } from 'vitest';
import type { Piece } from '../../desk';
import { freePlace } from './free';

const frame = (x_mm: number, z_mm: number, width_mm: number) => ({ kind: 'frame', on: '', x_mm, z_mm, apart_mm: 0, frame: { count: 1, width_mm } }) as unknown as Piece;

test('twelve pieces one after another stay within twelve metres, none in another', () => {
  const pieces: Piece[] = [];
  for (const wide of [3000, 600, 3000, 2000, 3000, 600, 700, 3000, 600, 2000, 2000, 600]) {
    const { x_mm, z_mm } = freePlace(pieces, wide);
    pieces.push(frame(x_mm, z_mm, wide));
  }
  const spans = pieces.map((p) => ({ z: p.z_mm, from: p.x_mm, to: p.x_mm + p.frame.width_mm }));
  expect(Math.min(...spans.map((s) => s.from))).toBe(0);
  expect(Math.max(...spans.map((s) => s.to))).toBeLessThanOrEqual(12_000);
  for (const [i, a] of spans.entries()) {
    for (const b of spans.slice(i + 1)) expect(a.z !== b.z || a.from >= b.to + 600 || b.from >= a.to + 600, `${i}`).toBe(true);
  }
  // 21.1 m of pieces with 600 between go into three rows: seen from the front two of them stand before others
  expect(new Set(spans.map((s) => s.z)).size).toBe(3);
});

test('a gap between two pieces is taken before the next row, and what is wider than a row has one for itself', () => {
  const two = [frame(0, 0, 1000), frame(4000, 0, 2000)];
  expect(freePlace(two, 600)).toEqual({ x_mm: 1600, z_mm: 0 });
  expect(freePlace(two, 9000)).toEqual({ x_mm: 0, z_mm: 2000 });
  expect(freePlace([], 9000)).toEqual({ x_mm: 0, z_mm: 0 });
});

test('what hangs on a frame takes no room of its own', () => {
  const hung = { kind: 'garland', on: 'f', x_mm: 0, z_mm: 0, apart_mm: 0, garland: { shape: 'straight', length_mm: 3000, points: {} } } as unknown as Piece;
  expect(freePlace([frame(0, 0, 1000), hung], 600)).toEqual({ x_mm: 1600, z_mm: 0 });
});
