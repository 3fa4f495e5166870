import { describe, expect, test } from 'vitest';
import type { Edit, Garland, Hand } from '../../desk';
import { changed, kept, knots, movedTo, painted, places, takenBack } from './hand';

const PATH = ['pieces', 'p', 'garland', 'hand'];
type Hands = Garland['hand'];

const hand = (more: Partial<Hand> = {}): Hand => ({ shade: '', locked: false, balls: [], left_out: false, moved: 0, order: '80', gone: false, ...more });
const alike = (count: number, shade: string, size_in: number, blown_dmm: number) => Array.from({ length: count }, () => ({ shade, size_in, blown_dmm }));
const line = (...numbers: number[]) => numbers.map((number) => ({ number }));

/** What the store does with edits of the map: an id is used once, an item that is removed keeps its fields. */
function stored(hands: Hands, edits: Edit[]): Hands {
  const next: Hands = structuredClone(hands);
  for (const edit of edits) {
    if (edit.op === 'add') {
      expect(next[edit.id]).toBeUndefined();
      next[edit.id] = hand(edit.value as Partial<Hand>);
    } else if (edit.op === 'set') {
      const [id = '', field = ''] = edit.path.slice(PATH.length);
      expect(next[id]).toBeDefined();
      next[id] = { ...hand(next[id]), [field]: edit.value };
    } else if (edit.op === 'remove' || edit.op === 'restore') {
      expect(next[edit.id]).toBeDefined();
      next[edit.id] = { ...hand(next[edit.id]), gone: edit.op === 'remove' };
    }
  }
  return next;
}

/** What the plan does with them, written from its rule: in increasing number each is left out, or moved from where it then stands. */
function planned(length: number, hands: Hands): number[] {
  const now = Array.from({ length }, (_, i) => i);
  const changes = Object.entries(hands).flatMap(([id, h]) => (h && !h.gone ? [{ number: Number(id), ...h }] : []));
  for (const change of changes.sort((a, b) => a.number - b.number)) {
    const at = now.indexOf(change.number);
    if (at < 0) continue;
    now.splice(at, 1);
    if (change.left_out) continue;
    now.splice(Math.max(0, Math.min(now.length, at + change.moved)), 0, change.number);
  }
  return now;
}

describe('one change', () => {
  test('the first adds the cluster with all its fields, the next sets the one field', () => {
    const first = painted(PATH, {}, 7, 'rose');
    expect(first).toEqual([{ op: 'add', part: 'job', path: PATH, id: '7', before: null, value: { shade: 'rose', locked: false, balls: [], left_out: false, moved: 0 } }]);
    expect(painted(PATH, stored({}, first), 7, 'ivory')).toEqual([{ op: 'set', part: 'job', path: [...PATH, '7', 'shade'], value: 'ivory' }]);
  });
  test('what falls as before is taken off the map', () => {
    expect(changed(PATH, { '7': hand({ left_out: true }) }, 7, { left_out: false })).toEqual([{ op: 'remove', part: 'job', path: PATH, id: '7' }]);
    expect(changed(PATH, {}, 7, { moved: 0 })).toEqual([]);
  });
  test('a change that was taken back comes back with the new fields only', () => {
    const old = { '7': hand({ shade: 'rose', moved: 3, gone: true }) };
    const now = stored(old, changed(PATH, old, 7, { left_out: true }));
    expect(now['7']).toEqual(hand({ left_out: true }));
  });
  test('fixed balls are painted themselves', () => {
    const old = { '7': hand({ locked: true, balls: alike(4, 'rose', 11, 2286) }) };
    const now = stored(old, painted(PATH, old, 7, 'ivory'));
    expect(now['7']).toEqual(hand({ locked: true, balls: alike(4, 'ivory', 11, 2286) }));
  });
  test('all of them are taken back', () => {
    const old = { '1': hand({ moved: 1 }), '2': hand({ gone: true }), '3': hand({ shade: 'rose' }) };
    expect(Object.values(stored(old, takenBack(PATH, old))).every((h) => h?.gone)).toBe(true);
  });
});

test('balls are kept by the palette, double-stuffed ones by both colours', () => {
  const ball = (inside: string) => ({ colour: 'c1', inside, size_in: 11, blown_dmm: 2000 });
  const shade = (inside: string) => ({ colour: 'c1', inside, share_pct: 50, length_mm: 0, order: '80', gone: false });
  const palette = { plain: shade(''), double: shade('c2') };
  const cluster = { card: 0, number: 0, balls: [ball(''), ball('c2')] };
  expect(kept(cluster, palette)?.map((b) => b.shade)).toEqual(['plain', 'double']);
  expect(kept(cluster, { plain: shade('') })).toBeNull();
});

test('what is left out stands on the strip before the next number', () => {
  const hands = { '1': hand({ left_out: true }), '5': hand({ left_out: true }), '90': hand({ left_out: true }) };
  expect(knots(line(0, 2, 3, 4), hands).map((k) => [k.number, k.at])).toEqual([[0, 0], [1, null], [2, 1], [3, 2], [4, 3], [5, null]]);
});

describe('moving', () => {
  test('one place later and back again leaves nothing behind', () => {
    const later = movedTo(PATH, {}, line(0, 1, 2, 3), 1, 2);
    const hands = stored({}, later);
    expect(planned(4, hands)).toEqual([0, 2, 1, 3]);
    const back = stored(hands, movedTo(PATH, hands, line(0, 2, 1, 3), 2, 1));
    expect(planned(4, back)).toEqual([0, 1, 2, 3]);
    expect(back['1']?.gone).toBe(true);
  });
  test('moves that lie across each other: only the one that was chosen moves', () => {
    // 3 after 4, 4 one earlier, then 3 one earlier: figures that are merely added up would put 3 behind 4 again
    let hands: Hands = { '3': hand({ moved: 1 }), '4': hand({ moved: -1 }) };
    const before = planned(6, hands);
    const at = before.indexOf(3);
    hands = stored(hands, movedTo(PATH, hands, line(...before), at, at - 1));
    const wanted = before.filter((n) => n !== 3);
    wanted.splice(at - 1, 0, 3);
    expect(planned(6, hands)).toEqual(wanted);
  });
  test('any hundred moves and left-outs come out as they were asked for', () => {
    const LENGTH = 12;
    let seed = 20_401;
    const next = (below: number) => {
      seed = (seed * 48_271) % 2_147_483_647; // Park and Miller, 1988
      return seed % below;
    };
    let hands: Hands = {};
    let compared = 0;
    for (let i = 0; i < 100; i++) {
      const now = planned(LENGTH, hands);
      const at = next(now.length);
      const number = now[at] ?? 0;
      if (next(8) === 0 && now.length > 4) {
        hands = stored(hands, changed(PATH, hands, number, { left_out: true, moved: 0 }));
        continue;
      }
      const to = next(now.length);
      const wanted = now.filter((n) => n !== number);
      wanted.splice(to, 0, number);
      hands = stored(hands, movedTo(PATH, hands, line(...now), at, to));
      expect(planned(LENGTH, hands)).toEqual(wanted);
      compared++;
    }
    expect(compared).toBeGreaterThan(80);
  });
  test('a cluster that need not move is not moved', () => {
    expect([...places([0, 1, 2, 3], new Set(), new Set([2]))]).toEqual([[2, 0]]);
  });
});
