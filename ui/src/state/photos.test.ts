import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { fitted, photoUrl } from './photos';

const callBytes = vi.hoisted(() => vi.fn());
vi.mock('../desk', () => ({ callBytes }));

let made = 0;
const revoked: string[] = [];

beforeEach(() => {
  // jsdom has no addresses of blobs
  vi.stubGlobal('URL', { createObjectURL: () => `blob:${++made}`, revokeObjectURL: (url: string) => revoked.push(url) });
  callBytes.mockReset();
  callBytes.mockResolvedValue({ answer: { mime: 'image/jpeg' }, body: new Uint8Array([1]) });
  revoked.length = 0;
});
afterEach(() => vi.unstubAllGlobals());

test('a photograph is made smaller, never larger, and keeps its shape', () => {
  expect(fitted(4032, 3024)).toEqual({ width: 1600, height: 1200 });
  expect(fitted(3024, 4032)).toEqual({ width: 1200, height: 1600 });
  expect(fitted(640, 480)).toEqual({ width: 640, height: 480 });
  expect(fitted(20_000, 3)).toEqual({ width: 1600, height: 1 });
});

test('a photo is read once for all who show it, and let go after the last', async () => {
  const [one, two] = await Promise.all([photoUrl('h'), photoUrl('h')]);
  expect(one.url).toBe(two.url);
  expect(callBytes).toHaveBeenCalledTimes(1);
  one.release();
  one.release(); // once is enough
  await Promise.resolve();
  expect(revoked).toEqual([]);
  two.release();
  await Promise.resolve();
  expect(revoked).toEqual([one.url]);
  const later = await photoUrl('h');
  expect(later.url).not.toBe(one.url);
  later.release();
});

test('a photo that could not be read is asked for again', async () => {
  callBytes.mockRejectedValueOnce({ code: 'photo_missing', message: 'not here', hint: '' });
  await expect(photoUrl('lost')).rejects.toMatchObject({ code: 'photo_missing' });
  const found = await photoUrl('lost');
  expect(found.url).toMatch(/^blob:/);
  expect(callBytes).toHaveBeenCalledTimes(2);
  found.release();
});
