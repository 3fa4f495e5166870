import { expect, test, vi } from 'vitest';
import type { OpenJob } from '../../state/job.svelte';
import { Billing } from './billing.svelte';

const { compute } = vi.hoisted(() => ({ compute: vi.fn() }));
// the door of the page opens workers, which there are none of here
vi.mock('../../desk', () => ({ compute, call: () => Promise.resolve({ books: { own: {} }, findings: [] }) }));

const opened = () => ({ id: 'j', job: { name: 'before' }, priv: {} });

test('a bill that is made while the job changes is made once more: the older one could have been issued', async () => {
  const open = opened();
  compute.mockImplementation((_, { job, kind }: { job: { name: string }; kind: string }) => {
    open.job = compute.mock.calls.length === 1 ? { name: 'after' } : open.job;
    return Promise.resolve({ bill: { kind, title: job.name }, findings: [], lines: [] });
  });
  const billing = new Billing(open as unknown as OpenJob);
  await billing.make('quote');
  expect(billing.draft?.bill.title).toBe('after');
  expect(compute).toHaveBeenCalledTimes(2);
});

test('a draft on screen follows the job under its id, and is not there meanwhile', async () => {
  const open = opened();
  compute.mockReset().mockImplementation((_, { job, kind }: { job: { name: string }; kind: string }) => Promise.resolve({ bill: { kind, title: job.name }, findings: [], lines: [] }));
  const billing = new Billing(open as unknown as OpenJob);
  await billing.make('invoice', { kept: 'd1' });
  open.job = { name: 'after' };
  billing.follow();
  expect(billing.draft).toBeNull();
  await vi.waitFor(() => expect(billing.draft?.bill.title).toBe('after'));
  expect([billing.draft?.kept, billing.draft?.bill.kind]).toEqual(['d1', 'invoice']);
});
