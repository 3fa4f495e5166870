import { expect, test } from 'vitest';
import type { SceneBall } from '../../desk';
import { nearBox } from './flat';
import type { Room } from './room';

const room = (...at: [number, number][]): Room => {
  const balls = at.map(([x, y]) => ({ at: [x * 10, y * 10, 0], r: 1000, colour: 'a', inside: '', piece: 'p', cluster: 0 }) as unknown as SceneBall);
  const xs = at.map(([x]) => x * 10);
  const ys = at.map(([, y]) => y * 10);
  return { balls, tubes: [], panels: [], low: [Math.min(...xs) - 1000, Math.min(...ys) - 1000, -1000], high: [Math.max(...xs) + 1000, Math.max(...ys) + 1000, 1000] };
};
const holds = (b: { x: number; y: number; width: number; height: number }, x: number, y: number) => x >= b.x && x <= b.x + b.width && -y >= b.y && -y <= b.y + b.height;

test('a path is shaped near by: it does not shrink to a speck in a wide room', () => {
  const box = nearBox(room([30_000, 1500], [33_000, 1500]), [[30_000, 1500], [33_000, 1500]], null);
  expect(box.width).toBeLessThan(6000);
  expect(holds(box, 30_000, 1500) && holds(box, 33_000, 1500)).toBe(true);
  // the floor is under it, and half a hand's width of it beside
  expect(holds(box, 31_000, 0)).toBe(true);
});
test('what hangs far above the floor is shown without it', () => {
  expect(holds(nearBox(room([0, 9000], [1000, 9000]), [[0, 9000], [1000, 9000]], null), 0, 0)).toBe(false);
});
test('a piece with no balloons yet is seen by its line alone, and with nothing at all there is still room to draw', () => {
  const empty = { balls: [], tubes: [], panels: [], low: [0, 0, 0], high: [0, 0, 0] } as Room;
  const box = nearBox(empty, [[20_000, 0], [22_000, 1000]], null);
  expect(holds(box, 20_000, 0) && !holds(box, 0, 0)).toBe(true);
  const none = nearBox(empty, [], null);
  expect(none.width > 3000 && none.height > 2000).toBe(true);
});
test('the whole photograph is under the drawing', () => {
  const box = nearBox(room([0, 1000]), [], { x: -2000, y: -4000, width: 9000, height: 4500 });
  expect(holds(box, -2000, 4000) && holds(box, 7000, -500)).toBe(true);
});
