// Issued bills as the page reads them.
import type { Bill, CreditPart, KeptBill } from '../../desk';
import { live } from '../../state/lists';

/** An issued bill of a job with what it says. */
export interface Issued {
  id: string;
  kept: KeptBill;
  bill: Bill;
}

/** What an issued bill says; null where a newer version wrote it in a way that cannot be read. */
export function read(kept: KeptBill): Bill | null {
  try {
    const some = JSON.parse(kept.content) as Partial<Bill>;
    return Array.isArray(some.lines) && Array.isArray(some.wholes) && Array.isArray(some.taxes) && Array.isArray(some.parts) ? (some as Bill) : null;
  } catch {
    return null;
  }
}

/** The issued bills, newest first. */
export function issued(bills: { [id in string]?: KeptBill }): Issued[] {
  return Object.entries(bills)
    .flatMap(([id, kept]) => {
      const bill = kept && kept.number !== '' ? read(kept) : null;
      return kept && bill ? [{ id, kept, bill }] : [];
    })
    .sort((a, b) => b.kept.at_ms - a.kept.at_ms || (a.kept.number < b.kept.number ? 1 : -1));
}

/** What became of a bill: nothing, a part of it given back, or all of it: nothing is left at any rate of tax. */
export function takenBack(all: Issued[], id: string): 'no' | 'part' | 'all' {
  const credits = all.filter((b) => b.kept.kind === 'credit' && b.kept.of === id);
  const taxes = all.find((b) => b.id === id)?.bill.taxes ?? [];
  if (credits.length === 0) return 'no';
  const given = (rate: number) => credits.flatMap((b) => b.bill.taxes).reduce((sum, tax) => sum + (tax.tax_bp === rate ? tax.net_cents : 0), 0);
  return taxes.every((tax) => tax.net_cents === given(tax.tax_bp)) ? 'all' : 'part';
}

/** A draft that the job keeps: any device writes it, the one that gives out numbers turns it into a bill. */
export interface KeptDraft {
  id: string;
  kept: KeptBill;
  bill: Bill;
}

/** The drafts, newest first. */
export const drafts = (bills: { [id in string]?: KeptBill }): KeptDraft[] =>
  live(bills)
    .flatMap(({ id, ...kept }) => {
      const bill = kept.number === '' ? read(kept) : null;
      return bill ? [{ id, kept, bill }] : [];
    })
    .sort((a, b) => b.kept.at_ms - a.kept.at_ms);

/** The lines that a part is given back of, as a draft keeps them; what cannot be read is none. */
export function partOf(kept: Pick<KeptBill, 'part'>): CreditPart[] {
  try {
    const some: unknown = JSON.parse(kept.part || '[]');
    if (!Array.isArray(some)) return [];
    return some.filter((p): p is CreditPart => Number.isInteger(p?.line) && Number.isInteger(p?.cents)).map(({ line, cents }) => ({ line, cents }));
  } catch {
    return [];
  }
}
