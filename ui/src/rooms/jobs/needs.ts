// The order of what needs the decorator, and how much of it is seen before one asks for all.

interface Needed {
  finding: { code: string; severity: string };
}

/** So many are seen, and on a telephone, where the first job has to stay in sight. */
const SEEN = 3;
const SEEN_PHONE = 1;

/** Between two jobs, not of one. */
export const isBetween = (code: string): boolean => code === 'clash' || code === 'clash_rest';

/** Double bookings before the rest of what must be solved, and of what asks for a look; short rests between jobs after all. */
function rank({ finding: { code, severity } }: Needed): number {
  if (code === 'clash_rest') return 4;
  return (severity === 'stop' ? 0 : 2) + (code === 'clash' ? 0 : 1);
}

/** Worst first; of one kind as they came. */
export const inOrder = <N extends Needed>(needs: readonly N[]): N[] => [...needs].sort((a, b) => rank(a) - rank(b));

/** Those that are seen at once. With one left over, the button would take as much room as the finding: not so on a telephone. */
export const foremost = <N>(needs: readonly N[], phone: boolean): readonly N[] => (needs.length <= (phone ? SEEN_PHONE : SEEN + 1) ? needs : needs.slice(0, phone ? SEEN_PHONE : SEEN));
