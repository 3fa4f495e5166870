import { expect, test } from 'vitest';
import { inHundred, placed } from './chance';

test('chances are whole days of a hundred, and nothing is certain', () => {
  expect([830, 825, 5, 994].map(inHundred)).toEqual(['83 days in 100', '83 days in 100', '1 days in 100', '99 days in 100']);
  expect([1000, 995].map(inHundred)).toEqual(['more than 99 days in 100', 'more than 99 days in 100']);
  expect([0, 4].map(inHundred)).toEqual(['less than 1 day in 100', 'less than 1 day in 100']);
});

test('moments keep their order and their distances on the band', () => {
  const [a, b, c] = placed([0, 600_000, 1_200_000]) as [number, number, number];
  expect(b - a).toBeCloseTo(c - b);
  expect(a).toBeGreaterThan(0);
  expect(c).toBeLessThan(100);
  expect(placed([5, 5]).every((p) => p === 50)).toBe(true);
});
