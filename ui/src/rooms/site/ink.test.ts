import { expect, it } from 'vitest';
import { drawn, longer, point, written, type Stroke } from './ink';

it('a place on the box is a whole point inside it', () => {
  const box = { left: 100, top: 50, width: 600, height: 200 };
  expect(point(100, 50, box)).toEqual([0, 0]);
  expect(point(400, 150, box)).toEqual([1500, 500]);
  expect(point(9999, -5, box)).toEqual([3000, 0]);
});

it('a stroke grows by points that say something', () => {
  let strokes: Stroke[] = [[[10, 10]]];
  strokes = longer(strokes, [11, 11]);
  expect(strokes).toEqual([[[10, 10]]]);
  strokes = longer(strokes, [40, 10]);
  expect(written([...strokes, [[7, 8]]])).toBe('10 10 40 10;7 8');
  expect(longer([], [1, 2])).toEqual([]);
});

it('what is kept is drawn, and what cannot be read is not', () => {
  expect(drawn('10 10 40 10;7 8')).toBe('M10 10L40 10M7 8L7 8');
  expect(drawn('')).toBe('');
  expect(drawn('1 2 3')).toBe('');
  expect(drawn('a b')).toBe('');
});
