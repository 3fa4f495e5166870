// Digests are reckoned once for each state of a job, one at a time, and a job that cannot be read does not hold the others up.
import { describe, expect, test, vi } from 'vitest';
import type { JobRow } from '../../desk';
import { Digests } from './digests.svelte';

const row = (id: string, changed_ms = 0) => ({ id, changed_ms, ticked: 0 }) as JobRow;
const plan = {
  findings: [{ code: 'x', severity: 'care', room: 'make' }],
  pieces: [{}],
  steps: [
    { id: 'a', phase: 'order', title: 'Order', quantity: 1 },
    { id: 'b', phase: 'install', title: 'Hang', quantity: 1 },
  ],
  figures: { balloons: 12, start_by_ms: null },
};
const tick = { step: 'a', device: 'd', turn: 1, done: true, skipped: false, quantity: 1 };
const view = (id: string) => ({ id, job: { stage: 'quoted', pieces: {}, ticks: { a: tick } }, private: null, findings: [] });

function desk() {
  const call = vi.fn(async (_: string, args: { id: string }) => {
    if (args.id === 'broken') throw { code: 'damaged', message: 'Damaged.', hint: '' };
    return view(args.id);
  });
  const compute = vi.fn(async () => plan);
  return { call, compute, desk: { call, compute } as never };
}

describe('digests', () => {
  test('say the first open step, the room where the work is, and what was found', async () => {
    const d = desk();
    const digests = new Digests(d.desk);
    await digests.look([row('one')]);
    const got = digests.of(row('one'));
    expect(got?.next?.id).toBe('b');
    expect(got?.room).toBe('make'); // its finding is open, although its only step is ticked
    expect(got?.settled.has('papers')).toBe(true);
    expect(got?.findings.map((f) => f.code)).toEqual(['x']);
  });

  test('are reckoned again only when the job has changed', async () => {
    const d = desk();
    const digests = new Digests(d.desk);
    await digests.look([row('one'), row('broken'), row('two')]);
    await digests.look([row('one'), row('two')]);
    expect(d.compute).toHaveBeenCalledTimes(2);
    await digests.look([row('one', 5)]);
    expect(d.compute).toHaveBeenCalledTimes(3);
    expect(digests.of(row('broken'))).toBeNull();
    expect(digests.of(row('one', 6))).toBeNull();
  });

  test('nothing more is begun when the list is left', async () => {
    const d = desk();
    const digests = new Digests(d.desk);
    const looking = digests.look([row('one'), row('two'), row('three')]);
    digests.rest();
    await looking;
    expect(d.call.mock.calls.length).toBe(1);
    expect(d.compute).not.toHaveBeenCalled();
  });
});
