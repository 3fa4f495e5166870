import { expect, test } from 'vitest';
import type { Job, Plan, Tick } from '../../desk';
import { strayTicks } from '../../state/ticks';
import { LOAD } from '../load/sample.testing';
import { bagTrips, byCode } from './bags';

const steps = [
  { id: 'pack.kit.case.1', code: 'C1', phase: 'pack' },
  { id: 'pack.arch.1', code: 'B1', phase: 'pack' },
  { id: 'load', code: 'L1', phase: 'load' },
];
const plan = { load: LOAD, steps } as unknown as Plan;
const tick = (step: string): Tick => ({ step, device: 'a', turn: 1, done: true, skipped: false, quantity: 1, at_ms: 0, who: '', reason: '', took_s: 0, what: '' }) as unknown as Tick;
const job = (...ids: string[]) => ({ ticks: Object.fromEntries(ids.map((id) => [`${id}~a`, tick(id)])) }) as unknown as Job;

test('bags stand trip by trip, going in as they are loaded and coming out as they are unloaded', () => {
  expect(bagTrips(job(), plan, 'in').map((one) => one.bags.map((b) => b.parcel.code))).toEqual([['C1', 'C2', 'B1', 'B2'], ['B3']]);
  expect(bagTrips(job(), plan, 'out').map((one) => one.bags.map((b) => b.parcel.code))).toEqual([['B2', 'B1', 'C2', 'C1'], ['B3']]);
});

test('a bag ticked in is not ticked out, and its tick has the name of its packing step', () => {
  const ticked = job('van.arch.1');
  const done = (way: 'in' | 'out') => bagTrips(ticked, plan, way).flatMap((one) => one.bags).filter((b) => b.done).map((b) => b.parcel.code);
  expect(done('in')).toEqual(['B1']);
  expect(done('out')).toEqual([]);
  // and it is no step that vanished
  expect(strayTicks(ticked, plan.steps)).toEqual([]);
});

test('a typed code is found in small letters and with blanks; nothing is found by half', () => {
  const all = bagTrips(job(), plan, 'in');
  expect(byCode(all, ' b 1')?.parcel.code).toBe('B1');
  expect(byCode(all, 'B')).toBeUndefined();
  expect(byCode(all, '')).toBeUndefined();
});
