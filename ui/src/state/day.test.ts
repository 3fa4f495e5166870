import { describe, expect, it, vi } from 'vitest';
import type { Job, Step, StepPlace } from '../desk';
import { ordered, placeBetween } from '../rooms/site/order';
import { keepAwake } from './awake';
import { Backups, bytes, room } from './keeping.svelte';
import { strayTicks } from './ticks';
import { StepTimers } from './timers.svelte';

// the door of the page opens workers, which there are none of here
vi.mock('../desk', () => ({ storage: undefined }));

function box(start: Record<string, string> = {}) {
  const kept = { ...start };
  return { kept, getItem: (k: string) => kept[k] ?? null, setItem: (k: string, v: string) => void (kept[k] = v) };
}

describe('the timer of a step', () => {
  it('counts while it runs, stands in a pause, and outlives a reload', () => {
    const storage = box();
    const timers = new StepTimers(storage);
    expect(timers.state('j', 'a')).toBe('none');
    timers.start('j', 'a', 1000);
    timers.start('j', 'a', 9000); // already running: nothing is lost
    expect(timers.counted('j', 'a', 61_000)).toBe(60_000);
    timers.pause('j', 'a', 61_000);
    expect(timers.counted('j', 'a', 999_000)).toBe(60_000);
    const again = new StepTimers(storage);
    expect(again.state('j', 'a')).toBe('paused');
    again.start('j', 'a', 100_000);
    expect(again.counted('j', 'a', 130_000)).toBe(90_000);
    expect(again.counted('other', 'a', 130_000)).toBe(0);
    again.clear('j', 'a');
    expect(new StepTimers(storage).state('j', 'a')).toBe('none');
  });

  it('counts nothing of a clock set back or a day forgotten', () => {
    const timers = new StepTimers(box());
    timers.start('j', 'a', 10_000);
    expect(timers.counted('j', 'a', 5000)).toBe(0);
    expect(timers.counted('j', 'a', 10_000 + 90 * 3600_000)).toBe(12 * 3600_000);
  });

  it('reads what was damaged as nothing', () => {
    expect(new StepTimers(box({ 'airwright.timers': '{"j/a":{"ms":"x"},"j/b":{"ms":5,"since":null}}' })).state('j', 'a')).toBe('none');
    expect(new StepTimers(box({ 'airwright.timers': 'no' })).state('j', 'b')).toBe('none');
  });
});

describe('the own order of steps', () => {
  const steps = ['a', 'b', 'c', 'd'].map((id) => ({ id, phase: 'install' }) as Step);
  const place = (step: string, turn: number, some: Partial<StepPlace>): StepPlace => ({ step, device: 'me', turn, after: '', first: false, at_ms: 0, ...some });
  const list = (places: StepPlace[]) =>
    ordered(steps, Object.fromEntries(places.map((p) => [`${p.step}~${p.device}`, p])), 'me')
      .map((s) => s.id)
      .join('');

  it('puts a step after another, or first, in the order in which it was said', () => {
    expect(list([])).toBe('abcd');
    expect(list([place('d', 1, { after: 'a' })])).toBe('adbc');
    expect(list([place('d', 1, { first: true })])).toBe('dabc');
    expect(list([place('d', 2, { after: 'a' }), place('a', 1, { after: 'c' })])).toBe('bcad');
    expect(list([place('d', 1, {})])).toBe('abcd');
  });

  it('is this device’s own, and loses no step when its anchor is gone', () => {
    expect(list([{ ...place('d', 1, { first: true }), device: 'other' }])).toBe('abcd');
    expect(list([place('d', 1, { after: 'vanished' }), place('vanished', 2, { after: 'a' })])).toBe('abcd');
  });

  it('never carries a step into another phase', () => {
    const mixed = [...steps.slice(0, 2), { id: 'x', phase: 'strike' } as Step];
    const to = { 'x~me': place('x', 1, { after: 'a' }) };
    expect(ordered(mixed, to, 'me').map((s) => s.id)).toEqual(['a', 'b', 'x']);
  });

  it('one up and one down are each other’s way back', () => {
    let places: StepPlace[] = [];
    let turn = 0;
    const move = (id: string, by: -1 | 1) => {
      const now = ordered(steps, Object.fromEntries(places.map((p) => [p.step, p])), 'me');
      const to = placeBetween(now, id, by);
      if (to) places = [...places.filter((p) => p.step !== id), place(id, ++turn, to)];
      return to;
    };
    const now = () => list(places);
    move('c', -1);
    expect(now()).toBe('acbd');
    move('c', -1);
    expect(now()).toBe('cabd');
    expect(move('c', -1)).toBeNull();
    move('c', 1);
    expect(now()).toBe('acbd');
    move('a', 1);
    expect(now()).toBe('cabd');
    expect(move('d', 1)).toBeNull();
  });
});

it('points of the walk-through and what is counted back are no steps that vanished', () => {
  const tick = (step: string) => ({ step, device: 'd', turn: 1, done: true, skipped: false, reason: '', quantity: 1, what: step, who: '', at_ms: 0, took_s: 0 });
  const ticks = Object.fromEntries(['walk.arch.full', 'back.kit.k', 'gone.arch'].map((id) => [`${id}~d`, tick(id)]));
  expect(strayTicks({ ticks } as unknown as Job, []).map((t) => t.step)).toEqual(['gone.arch']);
});

describe('the screen stays awake', () => {
  it('while the room is open, asked again when the page is seen again, and released after', async () => {
    const events: (() => void)[] = [];
    const page = { visibilityState: 'visible', addEventListener: (_: string, f: () => void) => events.push(f), removeEventListener: (_: string, f: () => void) => events.splice(events.indexOf(f), 1) };
    const asked: { released: boolean; release: () => Promise<void> }[] = [];
    const locks = {
      request: async () => {
        const one = { released: false, release: async () => void (one.released = true) };
        asked.push(one);
        return one;
      },
    };
    const stop = keepAwake(page as unknown as Document, locks as unknown as WakeLock);
    await Promise.resolve();
    await Promise.resolve();
    expect(asked.length).toBe(1);
    asked[0]!.released = true; // the system let go
    events[0]!();
    await Promise.resolve();
    await Promise.resolve();
    expect(asked.length).toBe(2);
    stop();
    await Promise.resolve();
    expect(asked[1]!.released).toBe(true);
    expect(events).toEqual([]);
  });
});

describe('room and backups', () => {
  it('is said as a person reads it', async () => {
    expect([bytes(300_000), bytes(4_200_000), bytes(1_234_000_000), bytes(52e9)]).toEqual(['300 kB', '4.2 MB', '1.2 GB', '52 GB']);
    expect(await room({ estimate: async () => ({ usage: 90, quota: 100 }) })).toEqual({ used: 90, all: 100, nearlyFull: true });
    expect((await room({ estimate: async () => ({ usage: 10, quota: 100 }) }))?.nearlyFull).toBe(false);
    expect(await room({ estimate: async () => ({}) })).toBeNull();
    expect(await room(undefined)).toBeNull();
  });

  it('reminds until one is made, and a week later again', () => {
    const storage = box();
    const backups = new Backups(storage);
    expect(backups.due(1e12)).toBe(true);
    backups.made(1e12);
    expect(backups.due(1e12 + 6 * 86_400_000)).toBe(false);
    expect(new Backups(storage).due(1e12 + 8 * 86_400_000)).toBe(true);
  });
});
