import { expect, test } from 'vitest';
import { apart } from './counts';

test('balloons of a garland are told apart: on the line, kept back, fillers', () => {
  const ball = (inside: string) => ({ colour: 'rose', inside, size_in: 11, blown_dmm: 2000 });
  // two quads on the line, one of them double-stuffed: 4 + 8; one plain quad kept back; six small fillers
  const plan = {
    clusters: [{ card: 0, number: 0, balls: Array.from({ length: 4 }, () => ball('')) }, { card: 1, number: 1, balls: Array.from({ length: 4 }, () => ball('sand')) }],
    counts: [{ colour: 'rose', inside: '', size_in: 11, balls: 8 }, { colour: 'rose', inside: 'sand', size_in: 11, balls: 4 }],
    fillers: [{ colour: 'rose', inside: '', size_in: 5, balls: 6 }],
  };
  expect(apart(plan)).toEqual({ line: 12, kept_back: 4, fillers: 6 });
});
