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

/** Findings that come once for each thing of one kind and are put right alike: together they are one. */
const TOGETHER = new Set(['item_missing']);

/** Findings with those that belong together in one group, in the place of the first of them. */
export function grouped<F extends { code: string; severity: SeverityName; action: string; fixes: readonly unknown[] }>(findings: readonly F[]): F[][] {
  const groups: F[][] = [];
  for (const finding of findings) {
    const alike = (g: F[]) => g[0]?.code === finding.code && g[0].action === finding.action && g[0].severity === finding.severity;
    const group = TOGETHER.has(finding.code) && finding.fixes.length === 1 ? groups.find(alike) : undefined;
    if (group) group.push(finding);
    else groups.push([finding]);
  }
  return groups;
}
