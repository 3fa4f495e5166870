import { expect, test } from 'vitest';
import { join, split } from './frame';

test('what is joined splits again, into a buffer of its own', () => {
  const block = join({ name: 'Größe' }, new Uint8Array([0, 1, 255]));
  const { words, body } = split<{ name: string }>(block);
  expect(words).toEqual({ name: 'Größe' });
  expect([...body]).toEqual([0, 1, 255]);
  expect(body.buffer.byteLength).toBe(3);
});

test('a block inside a larger buffer is read from its own beginning', () => {
  const block = join(7, new Uint8Array([9]));
  const larger = new Uint8Array(block.length + 10);
  larger.set(block, 10);
  const { words, body } = split<number>(larger.subarray(10));
  expect(words).toBe(7);
  expect([...body]).toEqual([9]);
});

test('the length is little-endian and counts bytes, not characters', () => {
  expect([...join('é').subarray(0, 4)]).toEqual([4, 0, 0, 0]);
});
