import { describe, expect, it } from 'vitest';
import type { KeptBill } from '../../desk';
import { drafts, issued, partOf, read, takenBack } from './issued';

const content = JSON.stringify({ lines: [], wholes: [], taxes: [], parts: [], gross_cents: 5 });
const kept = (over: Partial<KeptBill>): KeptBill => ({
  kind: 'invoice', number: '', instalment: '', of: '', part: '', content, by: '', at_ms: 0, paid_day: '', order: '', gone: false, ...over,
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
    const of = (net_cents: number) => JSON.stringify({ ...JSON.parse(content), taxes: [{ tax_bp: 2000, net_cents, tax_cents: 0 }] });
    const invoice = kept({ number: '1', content: of(900) });
    const credit = (number: string, net: number) => kept({ number, kind: 'credit', of: 'a', content: of(net) });
    expect(takenBack(issued({ a: invoice }), 'a')).toBe('no');
    expect(takenBack(issued({ a: invoice, c: credit('2', 400) }), 'a')).toBe('part');
    expect(takenBack(issued({ a: invoice, c: credit('2', 400), d: credit('3', 500) }), 'a')).toBe('all');
  });
  it('leave drafts apart', () => {
    const bills = { a: kept({ number: '1' }), b: kept({ at_ms: 2 }), c: kept({ at_ms: 3 }), d: kept({ gone: true }), e: kept({ content: '' }) };
    expect(drafts(bills).map((d) => d.id)).toEqual(['c', 'b']);
    expect(partOf({ part: '[{"line":1,"cents":50},{"line":"x"}]' })).toEqual([{ line: 1, cents: 50 }]);
    expect([partOf({ part: '' }), partOf({ part: '{' }), partOf({ part: '7' })]).toEqual([[], [], []]);
  });
});
