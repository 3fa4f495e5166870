import { expect, test, vi } from 'vitest';
import type { Job } from '../../desk';
import { fresh } from './colours';

vi.mock('../../desk', () => ({}));

test('own colours one after the other are all told apart, and from those that are there', () => {
  const colours: Record<string, unknown> = { sand: { name: 'Sand', srgb: '#d8d4cc', pattern: 'plain', order: '80', gone: false } };
  for (let n = 0; n < 6; n++) {
    const { id, edit } = fresh({ colours } as Pick<Job, 'colours'>);
    if (edit.op !== 'add') throw new Error('it is added');
    colours[id] = { ...(edit.value as object), order: `9${n}`, gone: false };
  }
  const shades = Object.values(colours).map((c) => (c as { srgb: string }).srgb);
  expect(new Set(shades).size).toBe(7);
  // no two of them within a tenth of the way from black to white
  const parts = (srgb: string) => [1, 3, 5].map((i) => parseInt(srgb.slice(i, i + 2), 16));
  shades.forEach((a, i) => shades.slice(0, i).forEach((b) => expect(Math.hypot(...parts(a).map((n, k) => n - (parts(b)[k] ?? 0))), `${a} ${b}`).toBeGreaterThan(44)));
});
