import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { asked } from './keys';
import { parse, Router, toPlace, toRoom } from './router.svelte';
import { Settings } from './settings.svelte';
import { UndoStripState } from './undo.svelte';

describe('the address', () => {
  test('a room of a job, with the remainder for the room', () => {
    expect(parse('#/job/j1/make/order')).toEqual({ kind: 'room', job: 'j1', room: 'make', rest: ['order'] });
    expect(parse('#/job/j1')).toEqual({ kind: 'room', job: 'j1', room: 'brief', rest: [] });
    expect(parse('#/job/j1/attic')).toEqual({ kind: 'room', job: 'j1', room: 'brief', rest: [] });
  });
  test('places, and Jobs for whatever cannot be read', () => {
    expect(parse('#/stockroom/rose')).toEqual({ kind: 'place', place: 'stockroom', rest: ['rose'] });
    for (const hash of ['', '#', '#/', '#/job', '#/nowhere', '#/%E0%A4%A']) expect(parse(hash)).toEqual({ kind: 'place', place: 'jobs', rest: [] });
  });
  test('what is made is read back, whatever is in the id', () => {
    const id = 'a/b #?%ü';
    expect(parse(toRoom(id, 'site', 'x y'))).toEqual({ kind: 'room', job: id, room: 'site', rest: ['x y'] });
    expect(parse(toPlace('people'))).toEqual({ kind: 'place', place: 'people', rest: [] });
  });
  test('the route follows the address', async () => {
    const router = new Router();
    router.go(toRoom('j2', 'load'));
    await new Promise((r) => window.addEventListener('hashchange', r, { once: true }));
    expect(router.route).toEqual({ kind: 'room', job: 'j2', room: 'load', rest: [] });
    expect(router.job).toBe('j2');
    router.go(toPlace('jobs'));
  });
});

describe('settings of the device', () => {
  const storage = (text: string | null) => {
    const kept: Record<string, string> = text === null ? {} : { 'airwright.settings': text };
    return { kept, getItem: (k: string) => kept[k] ?? null, setItem: (k: string, v: string) => void (kept[k] = v) };
  };

  test('nothing kept: fresh ones, following the system', () => {
    const s = new Settings(storage(null), undefined);
    expect([s.theme, s.painted, s.units, s.clock, s.leftHanded]).toEqual(['system', 'paper', 'metric', '24h', false]);
  });
  test('nonsense kept: what has no sense is fresh, the rest holds', () => {
    for (const bad of ['{', 'null', '[]', '7']) expect(new Settings(storage(bad), undefined).theme).toBe('system');
    const s = new Settings(storage('{"theme":"pink","units":"us","leftHanded":"yes","who":7,"foldedPicture":1}'), undefined);
    expect([s.theme, s.units, s.leftHanded, s.who, s.foldedPicture]).toEqual(['system', 'us', false, '', false]);
  });
  test('a change is kept at once and read back', () => {
    const box = storage(null);
    new Settings(box, undefined).change({ theme: 'sun', clock: '12h' });
    const again = new Settings(box, undefined);
    expect([again.theme, again.clock]).toEqual(['sun', '12h']);
  });
  test('a device that keeps nothing still changes', () => {
    const full = { getItem: () => null, setItem: () => { throw new DOMException('full', 'QuotaExceededError'); } };
    const s = new Settings(full, undefined);
    s.change({ units: 'us' });
    expect(s.units).toBe('us');
  });
  test('themes go round', () => {
    const s = new Settings(storage('{"theme":"paper"}'), undefined);
    const seen = [1, 2, 3].map(() => (s.nextTheme(), s.painted));
    expect(seen).toEqual(['hall', 'sun', 'paper']);
  });
});

describe('the undo strip', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  test('stays eight seconds', () => {
    const strip = new UndoStripState();
    strip.say('Taken out');
    vi.advanceTimersByTime(7999);
    expect(strip.said?.text).toBe('Taken out');
    vi.advanceTimersByTime(1);
    expect(strip.said).toBeNull();
  });
  test('waits while it is held, and begins anew after', () => {
    const strip = new UndoStripState();
    strip.say('Taken out');
    strip.hold();
    vi.advanceTimersByTime(60_000);
    expect(strip.said).not.toBeNull();
    strip.release();
    vi.advanceTimersByTime(7999);
    expect(strip.said).not.toBeNull();
    vi.advanceTimersByTime(1);
    expect(strip.said).toBeNull();
  });
  test('undo is done once and the strip goes', () => {
    const strip = new UndoStripState();
    const undo = vi.fn();
    strip.say('Taken out', { label: 'Undo', run: undo });
    strip.go();
    strip.go();
    expect(undo).toHaveBeenCalledTimes(1);
    expect(strip.said).toBeNull();
  });
  test('the newest replaces what stood there', () => {
    const strip = new UndoStripState();
    strip.say('One');
    vi.advanceTimersByTime(5000);
    strip.say('Two');
    vi.advanceTimersByTime(5000);
    expect(strip.said?.text).toBe('Two');
    strip.clear();
  });
});

describe('keys', () => {
  const press = (key: string, more: Partial<Parameters<typeof asked>[0]> = {}) =>
    asked({ key, ctrlKey: false, metaKey: false, altKey: false, shiftKey: false, isComposing: false, target: document.body, ...more });

  test('1 to 7 are the rooms', () => {
    expect([press('1'), press('7'), press('8'), press('0')]).toEqual([{ ask: 'room', room: 'brief' }, { ask: 'room', room: 'papers' }, null, null]);
  });
  test('undo and redo', () => {
    expect(press('z', { ctrlKey: true })).toEqual({ ask: 'undo' });
    expect(press('Z', { ctrlKey: true, shiftKey: true })).toEqual({ ask: 'redo' });
    expect(press('z', { metaKey: true })).toEqual({ ask: 'undo' });
    expect(press('z')).toBeNull();
  });
  test('in a text they are text', () => {
    for (const field of [document.createElement('input'), document.createElement('textarea'), document.createElement('select')]) {
      expect([press('1', { target: field }), press('/', { target: field }), press('z', { ctrlKey: true, target: field })]).toEqual([null, null, null]);
    }
    const box = Object.assign(document.createElement('input'), { type: 'checkbox' });
    expect(press('2', { target: box })).toEqual({ ask: 'room', room: 'design' });
  });
});
