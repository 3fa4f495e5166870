// The order in which this device likes its steps: the plan's, with single steps put elsewhere by hand. Nothing is lost by it.
import type { Job, Step, StepPlace } from '../../desk';

/** The steps in this device's own order. A step stays in its phase; one whose anchor the plan no longer has stands where the plan has it. */
export function ordered(steps: readonly Step[], places: Job['places'], device: string): Step[] {
  const list = [...steps];
  const mine = Object.values(places).flatMap((p) => (p && p.device === device ? [p] : []));
  mine.sort((a, b) => a.turn - b.turn || (a.step < b.step ? -1 : 1));
  for (const place of mine) {
    const from = list.findIndex((s) => s.id === place.step);
    const step = list[from];
    if (!step) continue;
    const phase = (other: Step) => other.phase === step.phase;
    const anchor = place.first ? list.findIndex(phase) : list.findIndex((s) => s.id === place.after && phase(s));
    if (anchor < 0 || anchor === from) continue;
    list.splice(from, 1);
    // taking it out moves what stood behind it one forward
    const at = anchor - (from < anchor ? 1 : 0) + (place.first ? 0 : 1);
    list.splice(at, 0, step);
  }
  return list;
}

/** Where a step has to be put to come one earlier or later in a list; null if it is at the end of its phase already. */
export function placeBetween(list: readonly Step[], id: string, by: -1 | 1): Pick<StepPlace, 'after' | 'first'> | null {
  const step = list.find((s) => s.id === id);
  const phase = list.filter((s) => s.phase === step?.phase);
  const at = phase.findIndex((s) => s.id === id);
  const other = phase[at + by];
  if (!step || !other) return null;
  if (by === 1) return { after: other.id, first: false };
  const before = phase[at - 2];
  return before ? { after: before.id, first: false } : { after: '', first: true };
}
