import { expect, test } from 'vitest';
import { first, LOAD, parcel, SPACE } from './sample.testing';
import { trips, type Trip } from './stowed';
import { above, layWords, whereWords } from './where';

const words = (trip: Trip, code: string) => {
  const stood = trip.stood.find((s) => s.parcel.code === code);
  if (!stood) throw new Error(code);
  return whereWords(trip, stood, 'metric');
};

test('a place is told by side, by what is under it, and by what is before it towards the cab', () => {
  const trip = first();
  expect(words(trip, 'C1')).toBe('Left, on the floor, at the cab end');
  expect(words(trip, 'C2')).toBe('Left, on C1, at the cab end');
  expect(words(trip, 'B1')).toBe('Left, on the floor, up against C1 and C2');
  expect(words(trip, 'B2')).toBe('Across the width, on the floor, by the door');
  expect(words(trips(LOAD)[1] as Trip, 'B3')).toBe('Right, on the floor, at the cab end');
});

test('left is the side of y 0, which is left as one looks in at the door: the right half is never called left', () => {
  for (let y = 0; y <= SPACE.width_mm - 300; y += 100) {
    const load = { ...LOAD, parcels: [parcel('C1', [0, y, 0], [300, 300, 300])] };
    const side = words(trips(load)[0] as Trip, 'C1').split(',')[0];
    const middle = y + 150;
    expect(side === 'Left').toBe(middle < 0.4 * SPACE.width_mm);
    expect(side === 'Right').toBe(middle > 0.6 * SPACE.width_mm);
  }
});

test('what stands free says how far it is from the cab; what stands on the arch says so; many below are cut short', () => {
  const free = trips({ ...LOAD, parcels: [parcel('C1', [1250, 700, 0], [300, 300, 300])] })[0] as Trip;
  expect(words(free, 'C1')).toBe('In the middle, on the floor, 1.25\u00a0m from the cab end');
  const arch = trips({ ...LOAD, parcels: [parcel('C1', [1700, 0, 250], [500, 170, 300])] })[0] as Trip;
  expect(words(arch, 'C1')).toBe('Left, on the wheel arch, 1.7\u00a0m from the cab end');
  const four = [0, 1, 2].map((n) => parcel(`C${n + 1}`, [n * 300, 0, 0], [300, 300, 300], {}, 1, n + 1));
  const top = trips({ ...LOAD, parcels: [...four, parcel('C4', [0, 0, 300], [900, 300, 300], {}, 1, 4)] })[0] as Trip;
  expect(words(top, 'C4')).toBe('Left, on C1, C2 and others, at the cab end');
});

test('how it lies: along, across or on end, and squeezed; a cube needs no word', () => {
  const lies = (sides: [number, number, number], squeezed_pct = 0) => {
    const p = parcel('C1', [0, 0, 0], sides);
    return layWords((trips({ ...LOAD, parcels: [{ ...p, stow: p.stow && { ...p.stow, squeezed_pct } }] })[0] as Trip).stood[0]!);
  };
  expect(lies([900, 300, 300])).toBe('Lengthways');
  expect(lies([300, 900, 300])).toBe('Crossways');
  expect(lies([300, 300, 900], 10)).toBe('On end, squeezed by 10 %');
  expect(lies([300, 300, 300])).toBe('');
});

test('what stands on a parcel is what has its base on that top', () => {
  const trip = first();
  expect(above(trip, trip.stood[0]!)).toEqual(['C2']);
  expect(above(trip, trip.stood[1]!)).toEqual([]);
});
