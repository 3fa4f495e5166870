// Pictures are cast for rows on the screen alone, one at a time, once for each state of a job; what cannot be shown holds nothing up.
import { describe, expect, test, vi } from 'vitest';
import type { JobRow } from '../../desk';
import { Stills } from './stills.svelte';

const row = (id: string, changed_ms = 0, ticked = 0) => ({ id, changed_ms, ticked }) as JobRow;
const none = { palette: {} };
const piece = { kind: 'garland', garland: { palette: { s: { colour: 'ivory' } } }, chain: none, classic: none, wall: none, bouquet: none, floaters: none, centrepiece: none, loose: none };
const job = { pieces: { f: { ...piece, kind: 'frame', order: 'a' }, p: { ...piece, order: 'b' } }, colours: { ivory: { srgb: '#f3ead8' }, moss: { srgb: '#5f7350' } } };

function made() {
  let most = 0;
  let now = 0;
  const call = vi.fn(async (_: string, args: { id: string }) => {
    if (args.id === 'broken') throw { code: 'damaged', message: 'Damaged.', hint: '' };
    return { job };
  });
  const computeBytes = vi.fn(async () => {
    most = Math.max(most, ++now);
    await new Promise((done) => setTimeout(done, 1));
    now--;
    return { answer: { mime: 'image/png' }, body: new Uint8Array([1]) };
  });
  let made = 0;
  const free = vi.fn();
  const urls = { make: () => `blob:${++made}`, free };
  return { stills: new Stills({ call, computeBytes } as never, urls), call, computeBytes, free, most: () => most };
}

// a busy machine takes seconds for two hundred turns of the clock
const settled = (stills: Stills, of: JobRow) => vi.waitFor(() => expect(stills.of(of)?.url).toBeTruthy(), 20_000);

describe('stills', () => {
  test('are cast once for each state of a job, a tick apart', async () => {
    const { stills, computeBytes } = made();
    stills.seen(row('one'));
    await settled(stills, row('one'));
    expect(stills.of(row('one'))?.beads).toEqual(['#f3ead8']);
    // the picture is of the first piece that is no bare frame
    expect(computeBytes).toHaveBeenCalledWith('picture', expect.objectContaining({ piece: 'p', transparent: true }));
    stills.seen(row('one', 0, 3));
    expect(stills.of(row('one', 0, 3))?.url).toBe('blob:1');
    expect(computeBytes).toHaveBeenCalledTimes(1);
    stills.seen(row('one', 9));
    await settled(stills, row('one', 9));
    expect(computeBytes).toHaveBeenCalledTimes(2);
  });

  test('are cast one at a time, and not for rows that have left', async () => {
    const { stills, call, most } = made();
    ['one', 'two', 'three'].forEach((id) => stills.seen(row(id)));
    stills.unseen(row('two'));
    await settled(stills, row('three'));
    expect(call.mock.calls.map(([, args]) => args.id)).toEqual(['one', 'three']);
    expect(most()).toBe(1);
  });

  test('a job that cannot be read holds nothing up', async () => {
    const { stills } = made();
    stills.seen(row('broken'));
    stills.seen(row('one'));
    await settled(stills, row('one'));
    expect(stills.of(row('broken'))).toBeNull();
  });

  test('the oldest are let go', { timeout: 30_000 }, async () => {
    const { stills, free } = made();
    for (let n = 0; n < 203; n++) stills.seen(row(`job ${n}`));
    await settled(stills, row('job 202'));
    expect(free.mock.calls.map(([url]) => url)).toEqual(['blob:1', 'blob:2', 'blob:3']);
    expect(stills.of(row('job 0'))).toBeNull();
  });
});
