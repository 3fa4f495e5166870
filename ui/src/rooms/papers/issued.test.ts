import { describe, expect, it } from 'vitest';
import type { KeptBill } from '../../desk';
import { issued, read, takenBack } from './issued';

const content = JSON.stringify({ lines: [], wholes: [], taxes: [], parts: [], gross_cents: 5 });
const kept = (over: Partial<KeptBill>): KeptBill => ({
  kind: 'invoice', number: '', instalment: '', of: '', content, at_ms: 0, paid_day: '', order: '', gone: false, ...over,
});

describe('issued bills', () => {
  it('are those with a number, newest first', () => {
    const bills = { a: kept({ number: '0001', at_ms: 5 }), b: kept({}), c: kept({ number: '0002', at_ms: 9 }) };
    expect(issued(bills).map((b) => b.id)).toEqual(['c', 'a']);
  });
  it('that cannot be read are left out', () => {
    expect(read(kept({ content: '{}' }))).toBeNull();
    expect(read(kept({ content: 'no' }))).toBeNull();
    expect(issued({ a: kept({ number: '1', content: '' }) })).toEqual([]);
  });
  it('know whether a credit note takes them back', () => {
    const all = issued({ a: kept({ number: '1' }), c: kept({ number: '2', kind: 'credit', of: 'a' }) });
    expect(takenBack(all, 'a')).toBe(true);
    expect(takenBack(all, 'c')).toBe(false);
  });
});
