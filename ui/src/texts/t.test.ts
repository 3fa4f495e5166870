import { expect, test } from 'vitest';
import { en } from './en';
import { t } from './t';

test('gaps are filled, numbers as numbers are written', () => {
  expect(t('frame.title', { room: 'Brief' })).toBe('Brief · Airwright');
  expect(t('beads.of', { done: 10, all: 12000 })).toBe('10 of 12\u202f000 done');
});
test('plurals', () => {
  expect([0, 1, 2].map((n) => t('findings.title', { n }))).toEqual(['0 findings', '1 finding', '2 findings']);
  expect([1, 2].map((n) => [t('design.balloons', { n }), t('pieces.foils_word', { n }), t('pieces.fillers_word', { n }), t('design.clusters_word', { n })])).toEqual([
    ['balloon', 'foil', 'filler', 'cluster on the line'],
    ['balloons', 'foils', 'fillers', 'clusters on the line'],
  ]);
});
test('the wording keeps to the house: no please, no exclamation, no dots for suspense, no capitals for emphasis', () => {
  for (const [key, entry] of Object.entries(en)) {
    for (const text of typeof entry === 'string' ? [entry] : Object.values(entry)) {
      expect(text, key).not.toMatch(/please|oops|successfully|!|…|\.\.\./i);
      expect(text, key).not.toMatch(/\b[A-Z]{4,}\b/);
      expect(text.trim(), key).toBe(text);
      expect(text, key).not.toBe('');
    }
  }
});
test('a misspelt key or value is a type error', () => {
  // @ts-expect-error there is no such key
  expect(() => t('frame.tilte')).toThrow();
  // @ts-expect-error the gap is called room
  expect(t('frame.title', { rome: 'x' })).toBe(' · Airwright');
});
