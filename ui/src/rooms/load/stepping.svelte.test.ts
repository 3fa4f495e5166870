import { expect, test } from 'vitest';
import { LOAD } from './sample.testing';
import { Stepping } from './stepping.svelte';
import { inside, type Stowable } from './stowed';

const codes = (s: Stepping) => (s.trip ? inside(s.trip, s.way, s.at).map((one) => one.parcel.code) : []);

test('loading puts one in after the other, and before the first and after the last stands the whole load', () => {
  const s = new Stepping(() => LOAD);
  expect(s.at).toBeNull();
  expect(codes(s)).toEqual(['C1', 'C2', 'B1', 'B2']);
  s.go(1);
  expect([s.now?.parcel.code, codes(s)]).toEqual(['C1', ['C1']]);
  s.go(1);
  s.go(1);
  expect([s.now?.parcel.code, codes(s)]).toEqual(['B1', ['C1', 'C2', 'B1']]);
  s.go(1);
  s.go(1);
  expect(s.at).toBeNull();
  s.go(-1);
  expect(s.now?.parcel.code).toBe('B2');
});

test('unloading takes out by its own order, what is in hand still in its place', () => {
  const s = new Stepping(() => LOAD);
  s.turn('out');
  s.go(1);
  expect([s.now?.parcel.code, codes(s)]).toEqual(['B2', ['B2', 'B1', 'C2', 'C1']]);
  s.go(1);
  expect([s.now?.parcel.code, codes(s)]).toEqual(['B1', ['B1', 'C2', 'C1']]);
});

test('a tap on a parcel of another trip looks at that trip; while stepping it is stepped to', () => {
  const s = new Stepping(() => LOAD);
  s.pick('B3');
  expect([s.trip?.run.trip, s.now?.parcel.code, s.at]).toEqual([2, 'B3', null]);
  s.pick('C2');
  s.drop();
  expect([s.trip?.run.trip, s.now, s.at]).toEqual([1, null, null]);
  s.to(0);
  s.pick('B1');
  expect([s.at, s.now?.parcel.code]).toEqual([2, 'B1']);
});

test('a load that shrinks while it is looked at: one is never at a place that is not there', () => {
  let load = $state.raw<Stowable>(LOAD);
  const s = new Stepping(() => load);
  s.see(2);
  s.see(1);
  s.to(3);
  expect(s.now?.parcel.code).toBe('B2');
  load = { ...LOAD, parcels: LOAD.parcels.slice(0, 2) };
  expect([s.at, s.now?.parcel.code]).toEqual([1, 'C2']);
  load = { ...LOAD, runs: [], parcels: [] };
  expect([s.trip, s.at, s.now]).toEqual([undefined, null, null]);
  s.go(1);
  expect(s.at).toBeNull();
});
