import { describe, expect, test } from 'vitest';
import { drawing, symbols } from '../icons/icons';
import { box, lay, opposite, ring, scaleOf } from './cluster';
import { worst, worstFirst } from './finding';
import { apportion, moveBorder, setShare } from './mix';
import { contrast, edgeOf, nextPattern, patternFill, tone } from './pattern';

const sum = (shares: number[]) => shares.reduce((a, b) => a + b, 0);

describe('shares', () => {
  test('a border moves between two neighbours and stops at nothing', () => {
    expect(moveBorder([50, 30, 20], 0, 10)).toEqual([60, 20, 20]);
    expect(moveBorder([50, 30, 20], 0, 99)).toEqual([80, 0, 20]);
    expect(moveBorder([50, 30, 20], 1, -99)).toEqual([50, 0, 50]);
  });
  test('the others make room in proportion', () => {
    expect(setShare([50, 30, 20], 0, 60)).toEqual([60, 24, 16]);
    expect(setShare([100, 0, 0], 0, 40)).toEqual([40, 30, 30]);
    expect(setShare([100], 0, 40)).toEqual([100]);
  });
  test('the sum stays whatever is done, and no share is negative or broken', () => {
    for (let a = 0; a <= 100; a += 3) {
      for (const start of [[33, 33, 34], [1, 98, 1], [0, 0, 100], [7, 11, 13, 69]]) {
        for (let i = 0; i < start.length; i++) {
          const next = setShare(start, i, a);
          expect(sum(next)).toBe(100);
          expect(next[i]).toBe(a);
          expect(next.every((s) => Number.isInteger(s) && s >= 0)).toBe(true);
        }
      }
    }
  });
  test('largest remainders, the earlier first where equal', () => {
    expect(apportion([1, 1, 1], 100)).toEqual([34, 33, 33]);
    expect(apportion([0, 0], 5)).toEqual([0, 0]);
  });
});

describe('a cluster', () => {
  const far = (a: { cx: number; cy: number }, b: { cx: number; cy: number }) => Math.hypot(a.cx - b.cx, a.cy - b.cy);

  test.each([[[5, 5, 5, 5]], [[8, 4, 4, 8, 4, 4]], [[5, 5, 5]], [[9, 9, 9, 9, 3, 3, 3, 3]]])('of %j: each touches its neighbours', (radii) => {
    const circles = ring(radii, 1);
    circles.forEach((c, i) => {
      const next = circles[(i + 1) % circles.length];
      expect(next && far(c, next)).toBeCloseTo(c.r + (next?.r ?? 0), 6);
    });
  });
  test('four alike lie at √2 radii from the knot', () => {
    const [first] = ring([5, 5, 5, 5], 1);
    expect(Math.hypot(first?.cx ?? 0, first?.cy ?? 0)).toBeCloseTo(5 * Math.SQRT2, 6);
  });
  test('a pair lies side by side', () => {
    const [a, b] = ring([4, 6]);
    expect([a?.cx, b?.cx].map((x) => Math.round(x ?? NaN))).toEqual([-4, 6]);
    expect(a?.cy).toBeCloseTo(0, 9);
  });
  test('by the scale of a piece an 11 in is as large on every card, beside a 24 in or alone', () => {
    const large = [24, 24, 11, 11].map((diameter) => ({ diameter }));
    const small = [11, 11, 5, 5].map((diameter) => ({ diameter }));
    const scale = scaleOf([large, small]);
    const radius = (cluster: typeof large, diameter: number) => lay(cluster, scale).find((l) => l.round.diameter === diameter)?.c.r ?? NaN;
    expect(radius(small, 11)).toBe(radius(large, 11));
    expect(radius(large, 24) / radius(small, 11)).toBeCloseTo(24 / 11, 9);
    // alone each fills its drawing
    expect(Math.max(...lay(small).map((l) => l.c.r))).toBe(radius(large, 24));
    // and the smallest can be seen still
    expect(radius([...small, { diameter: 1 }, { diameter: 1 }], 1)).toBeGreaterThan(4);
    // every one of them is within the box, the largest round on top
    for (const cluster of [large, small]) {
      const view = box(lay(cluster, scale).map((l) => l.c), 1.5);
      expect([view.width <= scale.width, view.height <= scale.height]).toEqual([true, true]);
      expect(lay(cluster, scale)[0]?.round.diameter).toBe(Math.max(...cluster.map((r) => r.diameter)));
    }
  });
  test('the two of a pair lie opposite each other', () => expect(opposite(['a', 'A', 'b', 'B', 'c', 'C'])).toEqual(['a', 'b', 'c', 'A', 'B', 'C']));
  test('the box holds all', () => expect(box([{ cx: 0, cy: 0, r: 2 }, { cx: 3, cy: 0, r: 1 }], 1)).toEqual({ x: -3, y: -3, width: 8, height: 6 }));
});

describe('colours', () => {
  test('an edge is told from its balloon', () => {
    const inks = { 'var(--on-light-balloon)': '#1c1d21', 'var(--on-dark-balloon)': '#ffffff' };
    for (const srgb of ['#f4ead8', '#d9708a', '#6d7f4f', '#2440a0', '#1c1d21', '#000000', '#ffffff', '#767676']) {
      expect(contrast(srgb, inks[edgeOf(srgb) as keyof typeof inks]), srgb).toBeGreaterThanOrEqual(2);
    }
  });
  // WCAG 2: black on white is 21 : 1; #767676 on white is the well-known 4.54 : 1
  test('contrast', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  });
  test('white figures only where dark ones cannot be read', () => {
    expect(['#f3ead8', '#d9798a', '#46505c', '#000000', 'nonsense'].map(tone)).toEqual(['light', 'light', 'dark', 'dark', 'light']);
  });
  test('patterns', () => {
    expect(patternFill({ srgb: '#d9798a', pattern: 'hatched' })).toBe('url(#p-hatched-light)');
    expect(patternFill({ srgb: '#46505c', pattern: 'barred' })).toBe('url(#p-barred-dark)');
    expect([patternFill({ srgb: '#ffffff', pattern: 'plain' }), patternFill({ srgb: '#ffffff', pattern: 'newer' })]).toEqual(['none', 'none']);
    expect([nextPattern([]), nextPattern(['plain', 'hatched']), nextPattern(['plain', 'dotted'])]).toEqual(['plain', 'dotted', 'hatched']);
  });
});

test('findings: stop before care before note, otherwise as they came', () => {
  const list = [{ severity: 'note', n: 1 }, { severity: 'stop', n: 2 }, { severity: 'care', n: 3 }, { severity: 'stop', n: 4 }] as const;
  expect(worstFirst(list).map((f) => f.n)).toEqual([2, 4, 3, 1]);
  expect([worst(list), worst([]), worst([{ severity: 'note' }])]).toEqual(['stop', null, 'note']);
});

test('the drawing of an icon is what stands inside its svg, and no icon brings a style', () => {
  expect(drawing('<!-- x -->\n<svg a="1"\n>\n  <path d="M1 1"/>\n</svg>\n')).toBe('<path d="M1 1"/>');
  for (const { name, body } of symbols) {
    expect(body, name).toMatch(/^<(path|circle|rect|line|poly)/);
    expect(body, name).not.toMatch(/style|script|svg/);
  }
});
