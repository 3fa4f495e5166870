// The five answers of the quick price: what is asked for each kind of thing, and where the answers begin.
import type { Quick, QuickWhat } from '../../desk';

/** What may be wanted, the most frequent first. */
export const WHATS = ['arch_garland', 'half_arch', 'garland', 'columns', 'wall', 'bouquets', 'ceiling', 'chains', 'tables'] as const satisfies QuickWhat[];

/** The text that asks for a length; none where it is not asked. */
type Length = 'money.q_length' | 'money.q_along' | 'money.q_width' | 'money.q_each' | null;

/** What is asked: a length, a number, or both. */
export function asks(what: QuickWhat): { length: Length; count: boolean } {
  switch (what) {
    case 'garland':
      return { length: 'money.q_length', count: false };
    case 'arch_garland':
    case 'half_arch':
      return { length: 'money.q_along', count: false };
    case 'wall':
      return { length: 'money.q_width', count: false };
    case 'chains':
      return { length: 'money.q_each', count: true };
    default:
      return { length: null, count: true };
  }
}

/** Usual lengths, mm, and numbers: common practice, no source. */
const USUAL: { [what in QuickWhat]: [length_mm: number, count: number] } = {
  garland: [3000, 1],
  arch_garland: [6000, 1],
  half_arch: [3500, 1],
  columns: [0, 2],
  wall: [2400, 1],
  bouquets: [0, 5],
  ceiling: [0, 50],
  chains: [4000, 4],
  tables: [0, 10],
  newer: [3000, 1],
};

/** A kind with its usual length and number. */
export function usual(what: QuickWhat): Pick<Quick, 'what' | 'length_mm' | 'count'> {
  const [length_mm, count] = USUAL[what];
  return { what, length_mm, count };
}

/** The answers before anything is said. */
export const FIRST: Quick = { ...usual('arch_garland'), full: 'usual', distance_hm: 100, stairs: false, ready_by: '', strike: true };
