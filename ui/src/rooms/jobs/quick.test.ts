import { describe, expect, it } from 'vitest';
import { asks, FIRST, usual, WHATS } from './quick';

describe('quick price', () => {
  it('asks at most five things: what, how long or many, how full, how far, when', () => {
    for (const what of WHATS) {
      const ask = asks(what);
      expect(ask.length !== null || ask.count, what).toBe(true);
    }
    expect(asks('ceiling')).toEqual({ length: null, count: true });
    expect(asks('chains')).toEqual({ length: 'money.q_each', count: true });
  });
  it('begins each kind with a length or number that is asked for', () => {
    for (const what of WHATS) {
      const { length_mm, count } = usual(what);
      expect(asks(what).length === null || length_mm >= 300, what).toBe(true);
      expect(count, what).toBeGreaterThan(0);
    }
    expect(FIRST.what).toBe('arch_garland');
  });
});
