import { expect, test } from 'vitest';
import { firstPoints, pointAfter } from './points';

const g = { shape: 'arch' as const, length_mm: 3000, span_mm: 2000, rise_mm: 2200, landing_mm: 600, mirrored: false };
const flat = (points: { x_mm: number; y_mm: number }[]) => points.map((p) => [p.x_mm, p.y_mm]);

test('a drawn path begins as the shape it had: tips and top stay where they were', () => {
  const arch = flat(firstPoints(g));
  expect([arch[0], arch[4], arch[8]]).toEqual([[0, 0], [1000, 2200], [2000, 0]]);
  // every point on the ellipse (x - a)² / a² + y² / b² = 1, to the rounding of a millimetre
  for (const [x = 0, y = 0] of arch) expect(((x - 1000) / 1000) ** 2 + (y / 2200) ** 2).toBeCloseTo(1, 2);
  const half = flat(firstPoints({ ...g, shape: 'half_arch' }));
  expect([half[0], half[8]]).toEqual([[0, 0], [2000, 2200]]);
  for (const [x = 0, y = 0] of half) expect(((x - 2000) / 2000) ** 2 + (y / 2200) ** 2).toBeCloseTo(1, 2);
  expect(flat(firstPoints({ ...g, shape: 'half_arch', mirrored: true }))).toEqual(half.map(([x = 0, y = 0]) => [2000 - x, y]));
  const swag = flat(firstPoints({ ...g, shape: 'swag', rise_mm: 500 }));
  expect([swag[0], swag[4], swag[8]]).toEqual([[0, -0], [1000, -500], [2000, -0]]);
  expect(flat(firstPoints({ ...g, shape: 'stair' }))).toEqual([[0, 0], [2000, 2200], [2600, 2200]]);
  expect(flat(firstPoints({ ...g, shape: 'straight' }))).toEqual([[0, 0], [1500, 0], [3000, 0]]);
});

test('a new point goes halfway to the next, or on past the last', () => {
  const points = [{ x_mm: 0, y_mm: 0, z_mm: 0 }, { x_mm: 300, y_mm: 400, z_mm: 0 }];
  expect(pointAfter(points, 0)).toEqual({ x_mm: 150, y_mm: 200, z_mm: 0 });
  // 500 mm further along 3-4-5
  expect(pointAfter(points, 1)).toEqual({ x_mm: 600, y_mm: 800, z_mm: 0 });
  expect(pointAfter([], -1)).toEqual({ x_mm: 0, y_mm: 0, z_mm: 0 });
});
