// Which rooms of a job have no open question: their knots are filled.
import type { Job, Phase, Plan, Stage } from '../desk';
import { ROOMS, type RoomId } from './router.svelte';
import { stepState } from './ticks';

/** The rooms where work is ticked off are settled when their steps are. */
const PHASES: Partial<Record<RoomId, Phase[]>> = {
  make: ['order', 'prepare'],
  load: ['pack', 'load'],
  site: ['install', 'hand_over', 'strike'],
};
/** Papers are settled when they have gone out: a price was named, or more. */
const SENT: Stage[] = ['quoted', 'booked', 'ordered', 'done', 'closed'];

/** The rooms without an open question. A room with a finding to solve or look at is open; one without steps is, too. */
export function settledRooms(job: Job, plan: Plan | null): Set<RoomId> {
  if (!plan) return new Set();
  const asked = new Set(plan.findings.filter((f) => f.severity === 'stop' || f.severity === 'care').map((f) => f.room));
  return new Set(
    ROOMS.filter((room) => {
      if (asked.has(room)) return false;
      if (room === 'papers') return SENT.includes(job.stage);
      const phases = PHASES[room];
      if (!phases) return plan.pieces.length > 0;
      const steps = plan.steps.filter((s) => phases.includes(s.phase));
      return steps.length > 0 && steps.every((s) => ['done', 'left'].includes(stepState(job, s).state));
    }),
  );
}
