import { expect, test, vi } from 'vitest';
import type { Enquiry, JobRow } from '../../desk';
import { Asking } from './enquiry.svelte';

const DAY = 86_400_000;
const row = (id: string, day: number, more: Partial<JobRow> = {}) => ({ id, name: id, ready_by_ms: day * DAY, gone: false, stage: 'booked', changed_ms: 0, ticked: 0, ...more }) as JobRow;

function desk(rows: JobRow[]) {
  const compute = vi.fn(async (_: string, args: { others: unknown[] }) => ({ answer: args.others.length > 0 ? 'yes_if' : 'yes' }) as unknown as Enquiry);
  const call = vi.fn(async (name: string, args?: { id: string }) => (name === 'list_jobs' ? rows : { job: { name: args?.id } }));
  return { call, compute } as unknown as ConstructorParameters<typeof Asking>[0] & { call: typeof call; compute: typeof compute };
}

test('an enquiry is held against the jobs near its day, and not against itself', async () => {
  const d = desk([row('near', 11), row('far', 30), row('off', 10, { stage: 'postponed' }), row('self', 10)]);
  const asking = new Asking(d);
  await asking.ask({}, 10 * DAY, 'self');
  expect(d.compute.mock.calls[0]?.[1].others).toEqual([{ name: 'near' }]);
  expect(asking.other(1)?.id).toBe('near');
  expect(asking.other(0)).toBeUndefined();
  expect(asking.said?.answer).toBe('yes_if');
});

test('with no other job at all it is asked all the same', async () => {
  const d = desk([]);
  const asking = new Asking(d);
  await asking.ask({}, 10 * DAY);
  expect(d.compute.mock.calls[0]?.[1].others).toEqual([]);
  expect([asking.said?.answer, asking.working, asking.fault]).toEqual(['yes', false, null]);
});

test('an answer that comes after a newer question is not shown', async () => {
  const d = desk([row('near', 10)]);
  const asking = new Asking(d);
  const slow = asking.ask({}, 10 * DAY);
  asking.rest();
  await slow;
  expect(asking.said).toBeNull();
  expect(asking.working).toBe(false);
});
