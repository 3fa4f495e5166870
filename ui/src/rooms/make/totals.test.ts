import { expect, test } from 'vitest';
import type { SizingLine } from '../../desk';
import { totals } from './totals';

const line = (piece: string, colour: string, size_in: number, blown_dmm: number, count: number, more: Partial<SizingLine> = {}): SizingLine =>
  ({ piece, colour, inside: '', size_in, kind: 'round', blown_dmm, count, volume_ml: 1, strokes: null, inflator_ds: 40, ...more });

test('what is blown alike for several pieces is one row, and nothing else is', () => {
  const rows = [
    line('a', 'ivory', 11, 2286, 40),
    line('a', 'ivory', 5, 1143, 12),
    line('a', 'moss', 11, 2286, 30, { inside: 'sand' }),
    line('b', 'moss', 11, 2286, 7),
    line('b', 'ivory', 11, 2286, 8),
    // a tenth of a millimetre more is the same figure
    line('b', 'ivory', 11, 2285, 1),
    line('b', 'ivory', 11, 2032, 5),
    line('b', 'ivory', 16, 3810, 2),
    // with helium, and as a link of a chain
    line('c', 'ivory', 11, 2286, 3, { inflator_ds: null }),
    line('d', 'ivory', 11, 2286, 4, { kind: 'link' }),
    line('e', 'ivory', 5, 1143, 20),
  ];
  const sums = totals(rows);
  expect(sums.map((s) => [s.colour, s.inside, s.size_in, s.blown_dmm, s.kind, s.inflator_ds, s.count])).toEqual([
    ['ivory', '', 16, 3810, 'round', 40, 2],
    ['ivory', '', 11, 2286, 'round', 40, 49],
    ['ivory', '', 11, 2286, 'round', null, 3],
    ['ivory', '', 11, 2286, 'link', 40, 4],
    ['ivory', '', 11, 2032, 'round', 40, 5],
    ['ivory', '', 5, 1143, 'round', 40, 32],
    ['moss', 'sand', 11, 2286, 'round', 40, 30],
    ['moss', '', 11, 2286, 'round', 40, 7],
  ]);
  // none is lost, none comes twice, and the rows themselves stay
  const sum = (list: readonly SizingLine[]) => list.reduce((n, l) => n + l.count, 0);
  expect(sum(sums)).toBe(sum(rows));
  expect(rows[0]).toMatchObject({ piece: 'a', count: 40 });
  expect(totals([])).toEqual([]);
});
