import { expect, test } from 'vitest';
import { dragged, fit, keyed, nearer, turnTo, VIEWS } from './camera';

test('a box is seen whole: from the front its near face fills the height of the picture', () => {
  // tan 45° is 1: a cube of half side 1 whose near face is 1 before its middle needs 2; 8 % of air are added
  const level = { yaw: 0, pitch: 0, zoom: 1 };
  const away = fit([1, 1, 1], level, 90, 1);
  expect(away).toBeGreaterThanOrEqual(2 * 1.08);
  expect(away).toBeLessThan(2.2 * 1.08);
  // half as wide a picture: twice as far, but for the depth
  expect(fit([1, 1, 1], level, 90, 0.5)).toBeGreaterThan(away * 1.4);
});

test('turning comes round, and neither tips over nor under the floor', () => {
  let view = { ...VIEWS.front } as { yaw: number; pitch: number; zoom: number };
  for (let i = 0; i < 36; i++) view = keyed(view, 'ArrowRight') ?? view;
  expect(view.yaw).toBeCloseTo(0, 9);
  expect(dragged(view, 0, 9999).pitch).toBe(90);
  expect(dragged(view, 0, -9999).pitch).toBe(-30);
  expect(nearer(view, 1e9).zoom).toBe(6);
  expect(keyed(view, 'Home')).toEqual(VIEWS.front);
  expect(keyed(view, 'q')).toBeNull();
});

test('from view to view it goes the short way', () => {
  const half = turnTo({ yaw: 170, pitch: 0, zoom: 1 }, { yaw: -170, pitch: 0, zoom: 1 }, 0.5);
  expect(half.yaw).toBeGreaterThan(170);
  expect(half.yaw).toBeLessThan(190);
  expect(turnTo(VIEWS.side, VIEWS.top, 1)).toEqual(VIEWS.top);
});
