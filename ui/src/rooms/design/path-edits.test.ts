import { expect, test } from 'vitest';
import type { Edit, Job, Piece, Plan } from '../../desk';
import { drawnLength, moveEdits, pathEdits, pointAdded, pointRemoved, scaledEdits, shapeEdits } from './path-edits';
import { line, middle, type Path, type Point } from './pathing';
import { footOf, heldUp, lifted, liftOf, pathOf, pieceFoot } from './place';

const point = (x_mm: number, y_mm: number, order: string) => ({ x_mm, y_mm, z_mm: 0, order, gone: false });
function pieceOf(garland: object, more: object = {}): Piece {
  const given = { shape: 'arch', length_mm: 3000, span_mm: 2400, rise_mm: 2200, landing_mm: 0, mirrored: false, points: {}, ...garland };
  return { name: 'Arch', kind: 'garland', mount: 'frame', on: '', x_mm: 0, y_mm: 0, z_mm: 0, turn_deg: 0, gone: false, order: 'a', garland: given, ...more } as unknown as Piece;
}
const frame = { kind: 'frame', x_mm: 500, y_mm: 0, z_mm: 0, turn_deg: 0, gone: false, frame: { form: 'gate', width_mm: 2600, height_mm: 2300 } };
const jobOf = (piece: Piece, ceiling_mm = 0) => ({ venue: { ceiling_mm }, pieces: { p: piece, f: frame } }) as unknown as Job;

/** The piece after edits of it, as the document would have it. */
function after(piece: Piece, edits: Edit[]): Piece {
  const next = structuredClone(piece) as unknown as Record<string, unknown>;
  edits.forEach((edit, n) => {
    const keys = edit.path.slice(2);
    const last = keys.at(-1) ?? '';
    const owner = keys.slice(0, -1).reduce<Record<string, unknown>>((o, key) => o[key] as Record<string, unknown>, next);
    if (edit.op === 'set') owner[last] = edit.value;
    else if (edit.op === 'add') (owner[last] as Record<string, unknown>)[edit.id] = { z_mm: 0, gone: false, order: `y${String(n).padStart(3, '0')}`, ...(edit.value as object) };
    else if (edit.op === 'remove') ((owner[last] as Record<string, Record<string, unknown>>)[edit.id] ?? {})['gone'] = true;
  });
  return next as unknown as Piece;
}

/** The line of a piece in the room. */
function inRoom(piece: Piece): Point[] {
  const path = pathOf(piece);
  const foot = footOf(jobOf(piece), piece, path);
  return line(path).map(([x, y]) => [x + foot.x, y + foot.y] as const);
}

test('a path drawn by hand stays where it was drawn, on a frame and off it, whatever shape was there before', () => {
  const stroke: Point[] = [[100, 300], [800, 1900], [1700, 2100], [3100, 400]];
  for (const shape of ['arch', 'half_arch', 'swag', 'straight', 'hoop', 'stair'] as const) {
    for (const on of ['', 'f']) {
      const piece = pieceOf({ shape }, { on });
      const before = pathOf(piece);
      const foot = footOf(jobOf(piece), piece, before);
      const empty: Path = { ...before, shape: 'drawn', points: [] };
      const up = footOf(jobOf(piece), piece, empty).y;
      const points = stroke.map(([x, y]) => [x - foot.x, y - up] as const);
      const next = after(piece, pathEdits('p', piece, before, foot, { path: { ...empty, points }, shift: 0 }));
      const drawn = inRoom(next);
      for (const p of stroke) {
        const off = Math.min(...drawn.map((d) => Math.hypot(d[0] - p[0], d[1] - p[1])));
        expect(off, `${shape} on ${on || 'nothing'}`).toBeLessThan(2);
      }
    }
  }
});

test('on a frame a wider arch stays in its middle, and its place is not written', () => {
  const piece = pieceOf({}, { on: 'f' });
  const before = pathOf(piece);
  const foot = footOf(jobOf(piece), piece, before);
  const edits = pathEdits('p', piece, before, foot, { path: { ...before, span_mm: 3000 }, shift: -300 });
  expect(edits.map((e) => [e.path.at(-1), e.op === 'set' && e.value])).toEqual([['span_mm', 3000]]);
  expect(middle(inRoom(after(piece, edits)))).toBeCloseTo(middle(inRoom(piece)), 6);
});

test('a straight line that is drawn instead stays as high as it hung: it does not fall to the floor', () => {
  for (const [mount, on, high] of [['backdrop', '', 1900], ['frame', 'f', 2300], ['stair_rail', '', 950]] as const) {
    const straight = pieceOf({ shape: 'straight' }, { mount, on });
    expect(heldUp(jobOf(straight), straight)).toBe(high);
  }
  const arch = pieceOf({ shape: 'arch' });
  expect(heldUp(jobOf(arch), arch)).toBe(0);
});

test('points that are there are moved; what is too much goes, what lacks is added', () => {
  const points = { a: point(0, 0, 'a'), b: point(900, 800, 'b'), c: point(2000, 0, 'c'), old: { ...point(7, 7, 'bb'), gone: true } };
  const piece = pieceOf({ shape: 'drawn', points });
  const before = pathOf(piece);
  const foot = footOf(jobOf(piece), piece, before);
  const two = pathEdits('p', piece, before, foot, { path: { ...before, points: [[0, 0], [900, 950]] }, shift: 0 });
  expect(two.map((e) => [e.op, e.path.at(-1)])).toEqual([['set', 'y_mm'], ['remove', 'points']]);
  const four = pathEdits('p', piece, before, foot, { path: { ...before, points: [...before.points, [2500, 300]] }, shift: 0 });
  expect(four.map((e) => e.op)).toEqual(['add']);
  expect(pointAdded('p', piece, 0, [500, 500])[0]).toMatchObject({ op: 'add', before: 'b', value: { x_mm: 500, y_mm: 500 } });
  expect(pointAdded('p', piece, 2, [500, 500])[0]).toMatchObject({ before: null });
  expect(pointRemoved('p', piece, 1)).toMatchObject([{ op: 'remove', id: 'b' }]);
  expect(pointRemoved('p', piece, 9)).toEqual([]);
});

test('what hangs is lifted from the height it hangs at; what is turned goes along its own front', () => {
  const swag = pieceOf({ shape: 'swag', rise_mm: 500 }, { mount: 'ceiling_points' });
  const foot = footOf(jobOf(swag), swag, pathOf(swag));
  expect(foot.y).toBe(2700);
  expect(footOf(jobOf(swag, 9000), swag, pathOf(swag)).y).toBe(9000);
  expect(lifted(jobOf(swag), swag, foot, 150)).toBe(2850);
  // its belly comes to the floor and no lower; what is straight lies on it, and 0 would mean: as it usually hangs
  expect(lifted(jobOf(swag), swag, foot, -2700)).toBe(500);
  const straight = pieceOf({ shape: 'straight' }, { mount: 'ceiling_points' });
  expect(lifted(jobOf(straight), straight, footOf(jobOf(straight), straight, pathOf(straight)), -2700)).toBe(1);
  const turned = pieceOf({}, { turn_deg: 90, x_mm: 100 });
  const there = footOf(jobOf(turned), turned, pathOf(turned));
  expect(moveEdits('p', turned, there, 500, 0)).toMatchObject([{ path: ['pieces', 'p', 'z_mm'], value: -500 }]);
});

test('a standing backdrop is not dragged under the floor; one that was set lower by its number stays', () => {
  const backdrop = pieceOf({}, { kind: 'frame', frame: { form: 'backdrop', width_mm: 2000, height_mm: 2100 } });
  const job = jobOf(backdrop);
  expect(lifted(job, backdrop, pieceFoot(job, backdrop), -20)).toBe(0);
  expect(lifted(job, backdrop, pieceFoot(job, backdrop), 300)).toBe(300);
  const sunk = { ...backdrop, y_mm: -150 };
  expect([lifted(job, sunk, pieceFoot(job, sunk), -20), lifted(job, sunk, pieceFoot(job, sunk), 50)]).toEqual([-150, -100]);
});

test('another length of a drawn path keeps its shape and where it begins, on a frame and off it', () => {
  const points = { a: point(200, 300, '1'), b: { ...point(900, 1900, '2'), z_mm: 400 }, c: point(2600, 2000, '3'), d: point(3000, 800, '4') };
  for (const on of ['', 'f']) {
    for (const turn_deg of [0, 90]) {
      const piece = pieceOf({ shape: 'drawn', points }, { on, turn_deg });
      const foot = footOf(jobOf(piece), piece, pathOf(piece));
      const next = after(piece, scaledEdits('p', piece, foot, 2 * drawnLength(piece)));
      // to the rounding of a millimetre in each point
      expect(drawnLength(next) / drawnLength(piece)).toBeCloseTo(2, 3);
      expect([next.garland.points['c']?.x_mm, next.garland.points['b']?.z_mm]).toEqual([200 + 2 * 2400, 800]);
      const [was, is] = [inRoom(piece)[0], inRoom(next)[0]];
      expect(Math.hypot((was?.[0] ?? 0) - (is?.[0] ?? 9), (was?.[1] ?? 0) - (is?.[1] ?? 9))).toBeLessThanOrEqual(1);
    }
  }
  // 3-4-5 in space: the chord of two points
  const chord = pieceOf({ shape: 'drawn', points: { a: point(0, 0, '1'), b: { ...point(300, 0, '2'), z_mm: 400 } } });
  expect(drawnLength(chord)).toBe(500);
  expect(scaledEdits('p', chord, footOf(jobOf(chord), chord, pathOf(chord)), 500)).toEqual([]);
});

test('a new garland that is made a swag hangs by a fifth of its span, and stands high again as an arch', () => {
  const arch = pieceOf({ shape: 'arch', span_mm: 2500, rise_mm: 2200 });
  expect(shapeEdits('p', arch, 'swag').map((e) => [e.path.at(-1), e.op === 'set' && e.value])).toEqual([['shape', 'swag'], ['rise_mm', 500], ['mount', 'ceiling_points']]);
  const swag = after(arch, shapeEdits('p', arch, 'swag'));
  expect(shapeEdits('p', swag, 'arch')).toMatchObject([{ value: 'arch' }, { value: 2200 }, { value: 'frame' }]);
  // a sag that was set stays with a swag that is chosen again, and a straight line keeps it for later
  expect([shapeEdits('p', swag, 'swag').length, shapeEdits('p', swag, 'straight').length]).toEqual([1, 1]);
});

test('what a garland hangs on follows its shape, but never what was chosen', () => {
  const shapes = ['straight', 'arch', 'half_arch', 'hoop', 'stair', 'swag', 'drawn'] as const;
  const mounts = (piece: Piece) => shapes.map((shape) => after(piece, shapeEdits('p', piece, shape)).mount);
  for (const shape of ['straight', 'arch', 'hoop', 'drawn']) {
    expect(mounts(pieceOf({ shape })), shape).toEqual(['frame', 'frame', 'frame', 'frame', 'stair_rail', 'ceiling_points', 'frame']);
  }
  expect(mounts(pieceOf({ shape: 'stair' }, { mount: 'stair_rail' }))).toEqual(['stair_rail', 'frame', 'frame', 'frame', 'stair_rail', 'ceiling_points', 'stair_rail']);
  expect(mounts(pieceOf({ shape: 'swag' }, { mount: 'ceiling_points' }))).toEqual(['ceiling_points', 'frame', 'frame', 'frame', 'stair_rail', 'ceiling_points', 'ceiling_points']);
  // chosen otherwise, or on a frame of the job
  for (const [shape, mount, on] of [['arch', 'wall_hooks', ''], ['swag', 'frame', ''], ['stair', 'ceiling_points', ''], ['arch', 'frame', 'f']]) {
    expect(mounts(pieceOf({ shape }, { mount, on })), `${shape} ${mount}`).toEqual(shapes.map(() => mount));
  }
});

test('a hoop that says no height has its line where the plan lifted it', () => {
  const hoop = pieceOf({ shape: 'hoop' });
  const plan = { pieces: [{ piece: 'p', garland: { packed: [{ at: [0, 500, 0], r: 1000 }, { at: [0, -2000, 0], r: 1000 }] } }] } as unknown as Plan;
  const lift = liftOf(plan, 'p', hoop);
  expect(footOf(jobOf(hoop), hoop, pathOf(hoop), lift).y).toBe(300);
  expect(heldUp(jobOf(hoop), hoop, lift)).toBe(300);
  expect([liftOf(plan, 'p', { ...hoop, y_mm: 50 }), liftOf(plan, 'p', pieceOf({ shape: 'arch' })), liftOf(null, 'p', hoop)]).toEqual([0, 0, 0]);
});
