import { expect, test } from 'vitest';
import type { Ball } from '../../desk';
import { alikeBalls, groupName, letterOf, runsOf } from './shade';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const ball = (colour: string): Ball => ({ colour, inside: '', size_in: 11, blown_dmm: 2286 });

test('a row of a wall is told in runs of its letters', () => {
  expect(plain(runsOf([0, 0, 0, 1, 0, 0]))).toBe('3 A, 1 B, 2 A');
  expect([runsOf([]), letterOf(0), letterOf(40)]).toEqual(['', 'A', 'Z']);
});

test('alike balls of a ring are counted once each, in their order', () => {
  const found = alikeBalls([ball('a'), ball('b'), ball('a')]).map((a) => [a.ball.colour, a.times]);
  expect(found).toEqual([['a', 2], ['b', 1]]);
});

test('a group is called by what it is', () => {
  const of = (name: string, n: number, count: number) => groupName({ name, balls: Array.from({ length: n }), count });
  expect([of('ring', 5, 1), of('ring', 4, 10), of('quad', 4, 2), of('accent', 8, 1), of('foot', 4, 8)]).toEqual(['ring of 5', 'rings of 4', 'quads', 'accent of two quads', 'feet of 4']);
});
