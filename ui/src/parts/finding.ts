import type { IconName } from '../icons/icons';

/** How much a finding matters, worst first; a word of a newer version is a note. */
export type SeverityName = 'stop' | 'care' | 'note' | 'newer';

/** The shape that a severity always has, so that it is not told by colour alone. */
export const SHAPES: Record<SeverityName, IconName> = {
  stop: 'octagon-alert',
  care: 'triangle-alert',
  note: 'info',
  newer: 'info',
};

const RANK: Record<SeverityName, number> = { stop: 0, care: 1, note: 2, newer: 2 };

/** The severity of the worst of them, or null when there is none. */
export function worst(findings: readonly { severity: SeverityName }[]): SeverityName | null {
  return findings.reduce<SeverityName | null>((w, f) => (w === null || RANK[f.severity] < RANK[w] ? f.severity : w), null);
}

/** Stop before care before note; within one severity as they came. */
export function worstFirst<F extends { severity: SeverityName }>(findings: readonly F[]): F[] {
  return [...findings].sort((a, b) => RANK[a.severity] - RANK[b.severity]);
}
