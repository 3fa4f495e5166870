// Issued bills as the page reads them.
import type { Bill, KeptBill } from '../../desk';

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

/** Whether an issued credit note takes this bill back. */
export const takenBack = (all: Issued[], id: string): boolean => all.some((b) => b.kept.kind === 'credit' && b.kept.of === id);
