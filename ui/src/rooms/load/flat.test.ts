import { expect, test } from 'vitest';
import { faces, hit, labelPlace, rectOf, sheet } from './flat';
import { first, SPACE } from './sample.testing';

const ROOM = { width: 150, height: 100 };

test('from the left side the cab is at the left and the floor at the foot; from above the left side is at the foot', () => {
  const box = { x: 100, y: 200, z: 300, dx: 400, dy: 500, dz: 600 };
  expect(sheet(SPACE, 'side')).toEqual({ width: 3400, height: 1800 });
  expect(sheet(SPACE, 'top')).toEqual({ width: 3400, height: 1700 });
  expect(rectOf(SPACE, box, 'side')).toEqual({ x: 100, y: 900, width: 400, height: 600 });
  expect(rectOf(SPACE, box, 'top')).toEqual({ x: 100, y: 1000, width: 400, height: 500 });
});

test('what is nearer lies over what is behind it, and keeps its label; a hidden one has none', () => {
  const near = { box: { x: 0, y: 0, z: 0, dx: 800, dy: 400, dz: 600 } };
  const behind = { box: { x: 100, y: 400, z: 0, dx: 500, dy: 400, dz: 500 } };
  const drawn = faces(SPACE, [near, behind], 'side', ROOM);
  expect(drawn.map((f) => f.of)).toEqual([behind, near]);
  expect(drawn[0]?.label).toBeNull();
  expect(drawn[1]?.label).toEqual({ x: 400, y: 1500 });
  expect(hit(drawn, 300, 1600)).toBe(near);
  // from above both are seen
  expect(faces(SPACE, [near, behind], 'top', ROOM).every((f) => f.label !== null)).toBe(true);
});

test('a label keeps clear of what lies over its box, wherever that is, and of its edges', () => {
  const rect = { x: 0, y: 0, width: 900, height: 600 };
  for (const over of [
    { x: 0, y: 0, width: 600, height: 600 },
    { x: 400, y: 0, width: 600, height: 600 },
    { x: 0, y: 0, width: 900, height: 400 },
    { x: 200, y: 150, width: 900, height: 600 },
  ]) {
    const at = labelPlace(rect, [over], ROOM);
    expect(at).not.toBeNull();
    if (!at) continue;
    const box = { left: at.x - 75, right: at.x + 75, top: at.y - 50, bottom: at.y + 50 };
    expect(box.left >= 0 && box.right <= 900 && box.top >= 0 && box.bottom <= 600).toBe(true);
    const apart = box.right <= over.x || box.left >= over.x + over.width || box.bottom <= over.y || box.top >= over.y + over.height;
    expect(apart, JSON.stringify({ over, at })).toBe(true);
  }
  expect(labelPlace(rect, [{ x: 0, y: 0, width: 850, height: 600 }], ROOM)).toBeNull();
});

test('the whole load is drawn once, from both sides', () => {
  const { stood } = first();
  for (const look of ['side', 'top'] as const) expect(new Set(faces(SPACE, stood, look, ROOM).map((f) => f.of.parcel.code)).size).toBe(stood.length);
});
