import { describe, expect, test } from 'vitest';
import { ballsOf, countOf, mixedPairs, rowsOf, type Row } from './makeup';

const row = (n: number, shade: string, size_in = 11, blown_dmm = size_in * 200): Row => ({ n, shade, size_in, blown_dmm });

describe('what a cluster is made up of', () => {
  test('rows become balls and balls the same rows', () => {
    const rows = [row(2, 'rose', 11, 2286), row(2, 'white', 5, 1143)];
    expect(ballsOf(rows)).toEqual([
      { shade: 'rose', size_in: 11, blown_dmm: 2286 },
      { shade: 'rose', size_in: 11, blown_dmm: 2286 },
      { shade: 'white', size_in: 5, blown_dmm: 1143 },
      { shade: 'white', size_in: 5, blown_dmm: 1143 },
    ]);
    expect(rowsOf(ballsOf(rows))).toEqual(rows);
  });
  test('the same size blown to another diameter is another row', () => {
    expect(rowsOf([...ballsOf([row(2, 'rose', 11, 2286)]), ...ballsOf([row(2, 'rose', 11, 1778)])])).toHaveLength(2);
  });
  test('a colour stays within its pairs as far as its number goes', () => {
    // 3 rose of 11 in, 1 rose of 5 in, 2 white: three pairs of one colour each
    const one = ballsOf([row(3, 'rose'), row(2, 'white'), row(1, 'rose', 5)]);
    expect(mixedPairs(one)).toEqual([]);
    expect(one.map((b) => b.shade)).toEqual(['rose', 'rose', 'white', 'white', 'rose', 'rose']);
    // 3 and 1: one pair of two colours, and no more
    expect(mixedPairs(ballsOf([row(3, 'rose'), row(1, 'white')])).map((p) => p.map((b) => b.shade))).toEqual([['rose', 'white']]);
  });
  test('whatever the rows, no ball is lost and as few pairs as can be are of two colours', () => {
    const shades = ['a', 'b', 'c'];
    for (let i = 0; i < 4 ** 5; i++) {
      const rows = Array.from({ length: 5 }, (_, k) => row(Math.floor(i / 4 ** k) % 4, shades[k % 3] ?? '', 5 + 6 * (k % 2))).filter((r) => r.n > 0);
      const balls = ballsOf(rows);
      expect(balls).toHaveLength(countOf(rows));
      if (balls.length % 2 === 1) continue;
      const odd = shades.filter((s) => balls.filter((b) => b.shade === s).length % 2 === 1).length;
      expect(mixedPairs(balls)).toHaveLength(odd / 2);
    }
  });
});
