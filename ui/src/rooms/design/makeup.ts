// What a cluster is made up of, as rows: so many balloons of a colour and a size, blown to the same.
import type { HandBall } from '../../desk';

/** So many balloons alike. */
export interface Row extends HandBall {
  n: number;
}

/** Balloons that a cluster may have. */
export const TIED: readonly number[] = [4, 6, 8];

/** Balls with alike ones together, in the order in which they come. */
export function rowsOf(balls: readonly HandBall[]): Row[] {
  const rows: Row[] = [];
  for (const { shade, size_in, blown_dmm } of balls) {
    const row = rows.find((r) => r.shade === shade && r.size_in === size_in && r.blown_dmm === blown_dmm);
    if (row) row.n++;
    else rows.push({ n: 1, shade, size_in, blown_dmm });
  }
  return rows;
}

/** How many balloons the rows have. */
export const countOf = (rows: readonly Row[]): number => rows.reduce((sum, r) => sum + r.n, 0);

/** The balls of the rows, pair by pair: alike ones together, then those of one colour, and only what is left over of two. */
export function ballsOf(rows: readonly Row[]): HandBall[] {
  const one = ({ shade, size_in, blown_dmm }: Row): HandBall => ({ shade, size_in, blown_dmm });
  const alike = rows.flatMap((r) => Array.from({ length: r.n - (r.n % 2) }, () => one(r)));
  const single = rows.filter((r) => r.n % 2 === 1).map(one);
  const shades = [...new Set(single.map((b) => b.shade))].map((shade) => single.filter((b) => b.shade === shade));
  const paired = shades.flatMap((of) => of.slice(0, of.length - (of.length % 2)));
  const odd = shades.flatMap((of) => of.slice(of.length - (of.length % 2)));
  return [...alike, ...paired, ...odd];
}

/** The pairs of two colours among balls that lie pair by pair. */
export function mixedPairs(balls: readonly HandBall[]): [HandBall, HandBall][] {
  return balls.flatMap((a, i) => {
    const b = balls[i + 1];
    return i % 2 === 0 && b && a.shade !== b.shade ? [[a, b] as [HandBall, HandBall]] : [];
  });
}
