import { expect, test } from 'vitest';
import { between, drag, fromLine, furthest, handles, lengthOf, line, middle, simplified, type Path, type Point } from './pathing';
import { canvasFor, mmPerPx, photoPlace } from './photo-scale';

const path = (some: Partial<Path>): Path => ({ shape: 'straight', length_mm: 3000, span_mm: 2500, rise_mm: 2200, landing_mm: 0, mirrored: false, points: [], ...some });
const spread = (n: number, at: (t: number) => Point): Point[] => Array.from({ length: n }, (_, i) => at(i / (n - 1)));

test('lines have the length of their closed forms', () => {
  expect(lengthOf(line(path({ length_mm: 4200 })))).toBe(4200);
  // half a circle of 1 m: π; chords of 64 parts are 0.01 % short of it
  expect(lengthOf(line(path({ shape: 'arch', span_mm: 2000, rise_mm: 1000 })))).toBeCloseTo(3141, -1);
  // a quarter of the perimeter of an ellipse with semi-axes 5 and 3 (Ramanujan 1914), whichever side its foot is on
  for (const mirrored of [false, true]) expect(lengthOf(line(path({ shape: 'half_arch', span_mm: 5000, rise_mm: 3000, mirrored }))) / 6381.75).toBeCloseTo(1, 3);
  // Beer and Johnston, Vector Mechanics: Statics, Sample Problem 7.10 (from memory): span 500 ft, sag 100 ft, 550 ft of cable
  expect(lengthOf(line(path({ shape: 'swag', span_mm: 5000, rise_mm: 1000 }))) / 5500).toBeCloseTo(1, 2);
  expect(lengthOf(line(path({ shape: 'stair', span_mm: 4000, rise_mm: 3000, landing_mm: 1500 })))).toBe(6500);
  // the perimeter of an ellipse with semi-axes 5 and 3 is 25.527 (Ramanujan's approximation)
  expect(lengthOf(line(path({ shape: 'hoop', span_mm: 10000, rise_mm: 6000 }))) / 25527).toBeCloseTo(1, 3);
});

test('a swag hangs from its ends by its sag', () => {
  const points = line(path({ shape: 'swag', span_mm: 3000, rise_mm: 700 }));
  expect(points[0]?.[1]).toBeCloseTo(0, 6);
  expect(Math.min(...points.map((p) => p[1]))).toBeCloseTo(-700, 6);
  expect(line(path({ shape: 'swag', rise_mm: 0 }))).toEqual([[0, 0], [2500, 0]]);
});

test('every handle of a closed form lies on its line', () => {
  for (const shape of ['straight', 'arch', 'half_arch', 'swag', 'stair', 'hoop'] as const) {
    const p = path({ shape, landing_mm: 800, mirrored: true });
    for (const h of handles(p)) expect(fromLine(line(p), h.at), `${shape} ${h.grip}`).toBeLessThan(3);
  }
});

test('a handle stays under the finger: where it was dragged it is found again', () => {
  for (const shape of ['straight', 'arch', 'half_arch', 'swag', 'stair', 'hoop'] as const) {
    for (const [centred, mirrored] of [[true, true], [true, false], [false, true], [false, false]] as const) {
      const p = path({ shape, landing_mm: 800, mirrored });
      for (const h of handles(p)) {
        const to: Point = [h.at[0] + (h.ways === 'y' ? 0 : 200), h.at[1] + (h.ways === 'x' ? 0 : 130)];
        const { path: next, shift } = drag(p, h.grip, to, centred);
        const now = handles(next).find((n) => n.grip === h.grip)?.at;
        expect(now?.[0], `${shape} ${h.grip} x`).toBeCloseTo(to[0] - shift, 6);
        if (h.ways !== 'x') expect(now?.[1], `${shape} ${h.grip} y`).toBeCloseTo(to[1], 6);
      }
    }
  }
});

test('without a frame the far end stays; on a frame both ends move alike', () => {
  const arch = path({ shape: 'arch' });
  const alone = drag(arch, 'left', [-300, 0], false);
  expect([alone.path.span_mm, alone.shift]).toEqual([2800, -300]);
  const both = drag(arch, 'right', [2800, 0], true);
  expect([both.path.span_mm, both.shift]).toEqual([3100, -300]);
});

test('of half an arch the end that is not dragged stays, on a frame and off it', () => {
  for (const mirrored of [false, true]) {
    for (const centred of [false, true]) {
      const half = path({ shape: 'half_arch', span_mm: 1600, rise_mm: 2200, mirrored });
      const ends = (p: Path, shift: number) => handles(p).map((h) => [h.at[0] + shift, h.at[1]]);
      const [foot, top] = ends(half, 0);
      const pulled = drag(half, 'top', [mirrored ? -400 : 2000, 2400], centred);
      expect(ends(pulled.path, pulled.shift)[0]).toEqual(foot);
      expect([pulled.path.span_mm, pulled.path.rise_mm]).toEqual([2000, 2400]);
      const stepped = drag(half, mirrored ? 'right' : 'left', [mirrored ? 1900 : -300, 50], centred);
      expect(ends(stepped.path, stepped.shift)[1]).toEqual(top);
      expect([stepped.path.span_mm, stepped.path.rise_mm]).toEqual([1900, 2200]);
    }
  }
});

test('measures stop at what can be built, on whole centimetres', () => {
  expect(drag(path({ shape: 'arch' }), 'right', [-900, 0], false).path.span_mm).toBe(200);
  expect(drag(path({}), 'right', [4e9, 0], false).path.length_mm).toBe(50_000);
  expect(drag(path({ shape: 'arch' }), 'top', [0, 1234], false).path.rise_mm).toBe(1230);
  expect(drag(path({ shape: 'stair', landing_mm: 500 }), 'landing', [100, 0], false).path.landing_mm).toBe(0);
});

test('a stroke becomes its corners, and no point of it is further off than asked', () => {
  const corner = [...spread(50, (t) => [1000 * t, 0]), ...spread(50, (t) => [1000, 900 * t])];
  expect(furthest(corner, 5)).toEqual([[0, 0], [1000, 0], [1000, 900]]);
  const wave = spread(400, (t) => [6000 * t, 500 * Math.sin(9 * t)]);
  const kept = furthest(wave, 20);
  for (const p of wave) expect(fromLine(kept, p)).toBeLessThanOrEqual(20);
});

test('a long stroke is kept with 24 points at most, and its curve follows it', () => {
  const wave = spread(2000, (t) => [9000 * t, 800 * Math.sin(20 * t)]);
  const kept = simplified(wave);
  expect(kept.length).toBeLessThanOrEqual(24);
  expect(kept.length).toBeGreaterThan(12);
  const fine = line(path({ shape: 'drawn', points: kept }));
  for (const p of wave) expect(fromLine(fine, p)).toBeLessThan(150);
  expect(simplified(spread(9, () => [500, 500]))).toEqual([[500, 500]]);
});

test('points of a stroke on a small screen lay over one another, so that no finger could take hold of one', () => {
  const apart = 900; // 44 px of a phone on which a px is 20 mm
  const bow = spread(300, (t) => [6000 * t, 1500 * Math.sin(Math.PI * t)]);
  const near = (points: readonly Point[]) => Math.min(...points.slice(1).map((p, i) => lengthOf([points[i] ?? p, p])));
  expect(near(simplified(bow))).toBeLessThan(apart);
  const kept = simplified(bow, 24, apart);
  expect(near(kept)).toBeGreaterThanOrEqual(apart);
  const fine = line(path({ shape: 'drawn', points: kept }));
  for (const p of bow) expect(fromLine(fine, p)).toBeLessThan(apart / 3);
});

test('a drawn line goes through its points, and a new one falls between the right two', () => {
  const points: Point[] = [[0, 0], [1000, 800], [2000, 700], [3500, 0]];
  const fine = line(path({ shape: 'drawn', points }));
  for (const p of points) expect(Math.min(...fine.map((f) => Math.hypot(f[0] - p[0], f[1] - p[1])))).toBe(0);
  expect(between(points, [500, 450])).toBe(0);
  expect(between(points, [1500, 800])).toBe(1);
  expect(between(points, [3400, 60])).toBe(2);
  expect(between([[0, 0], [1000, 0]], [900, 10])).toBe(0);
  expect(middle(fine)).toBeCloseTo(1750, 0);
});

const venue = {
  photo: 'ab', photo_width_px: 1600, photo_height_px: 1200, photo_ax_px: 200, photo_ay_px: 900,
  photo_bx_px: 600, photo_by_px: 600, photo_between_mm: 2500, photo_ox_px: 300, photo_oy_px: 1000,
};

test('a photograph is measured by two tapped points', () => {
  // 400 px across and 300 up are 500 px: 5 mm each
  expect(mmPerPx(venue)).toBe(5);
  expect(photoPlace(venue)).toEqual({ left: -1500, top: 5000, width: 8000, height: 6000 });
  expect(photoPlace({ ...venue, photo_between_mm: 0 })).toBeNull();
  expect(photoPlace({ ...venue, photo: '' })).toBeNull();
  expect(photoPlace({ ...venue, photo_bx_px: 201, photo_by_px: 900 })).toBeNull();
});

test('a sheet holds the photograph, and what stands beyond its edge', () => {
  // 5 mm to a px: from -1500 to 6500 mm across, from -1000 to 5000 mm up
  const within = canvasFor(venue, { low: [0, 0, 0], high: [30_000, 22_000, 0] });
  expect(within).toEqual({ width: 1600, height: 1200, mmPerPx: 5, x: 300, y: 1000, photo: { x: 0, y: 0, width: 1600, height: 1200 }, wider: false });
  // a metre beyond the left edge and two beyond the right, each with 150 mm of air: 230 and 430 px
  const beyond = canvasFor(venue, { low: [-25_000, 0, 0], high: [85_000, 22_000, 0] });
  expect(beyond).toEqual({ width: 2260, height: 1200, mmPerPx: 5, x: 530, y: 1000, photo: { x: 230, y: 0, width: 1600, height: 1200 }, wider: true });
  // a street of 200 m: coarser, on as many px as a picture may have, everything where it was
  const far = canvasFor(venue, { low: [0, 0, 0], high: [2_000_000, 22_000, 0] });
  expect(far && far.width <= 8192 && far.width > 8190).toBe(true);
  expect((far?.x ?? 0) * (far?.mmPerPx ?? 0)).toBeCloseTo(1500, -2);
  expect(canvasFor({ ...venue, photo: '' }, { low: [0, 0, 0], high: [0, 0, 0] })).toBeNull();
});
