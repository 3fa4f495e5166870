import { expect, test } from 'vitest';
import type { Venue } from '../../desk';
import { mmPerPx } from './photo-scale';
import { inside, moved, named, spot, unnamed } from './venuePhoto';

/** A venue after edits of its fields. */
function after(edits: ReturnType<typeof moved>, venue = {} as Venue): Venue {
  const fields = edits.map((edit) => {
    if (edit.op !== 'set') throw new Error(edit.op);
    expect(edit.path[0]).toBe('venue');
    return [edit.path[1], edit.value];
  });
  return { ...venue, ...Object.fromEntries(fields) } as Venue;
}

const kept = { hash: 'abc', width: 1600, height: 1200 };

test('marks that are moved and measured give the scale', () => {
  let venue = after(named(kept));
  expect(mmPerPx(venue)).toBeNull();
  venue = after([...moved('a', { x: 100, y: 100 }), ...moved('b', { x: 400, y: 500 })], venue);
  // 3, 4, 5: the points are 500 px apart
  expect(mmPerPx({ ...venue, photo_between_mm: 2000 })).toBe(4);
});

test('a new photograph has its marks inside, apart, and no scale of the one before', () => {
  const venue = after(named(kept), { photo_between_mm: 900 } as Venue);
  expect([venue.photo, venue.photo_between_mm]).toEqual(['abc', 0]);
  for (const mark of ['a', 'b', 'o'] as const) expect(inside(venue, spot(venue, mark))).toEqual(spot(venue, mark));
  expect(mmPerPx({ ...venue, photo_between_mm: 1000 })).not.toBeNull();
  expect(after(unnamed(), venue)).toMatchObject({ photo: '', photo_width_px: 0, photo_ax_px: 0, photo_oy_px: 0, photo_between_mm: 0 });
});

test('a mark stays on the photograph, on a whole px', () => {
  const venue = after(named(kept));
  expect(inside(venue, { x: -3, y: 4000 })).toEqual({ x: 0, y: 1200 });
  expect(inside(venue, { x: 10.4, y: 10.6 })).toEqual({ x: 10, y: 11 });
});
