// What holds of a step's ticks: every device writes its own, and the highest turn counts.
import type { Assigned, Job, Step, Tick } from '../desk';

/** Where a step stands. */
export interface StepState {
  /** `left` is left out on purpose */
  state: 'open' | 'part' | 'done' | 'left';
  /** how much is done, in the step's unit */
  quantity: number;
  /** the tick that holds; absent while there is none */
  tick: Tick | null;
}

/** The tick that holds for a step: the highest turn. Two devices that ticked apart have one turn: then done holds, and of two that
 *  say the same that of the device whose name comes last. */
export function tickOf(job: Job, step: string): Tick | null {
  let best: Tick | null = null;
  for (const tick of Object.values(job.ticks)) {
    if (!tick || tick.step !== step) continue;
    if (!best || outranks(tick, best)) best = tick;
  }
  return best;
}

function outranks(a: Tick, b: Tick): boolean {
  if (a.turn !== b.turn) return a.turn > b.turn;
  if (a.done !== b.done) return a.done;
  return a.device > b.device;
}

/** Where a step of the plan stands. Ticked for less than the plan now asks, it is in part: "12 of 15". */
export function stepState(job: Job, step: Pick<Step, 'id' | 'quantity'>): StepState {
  const tick = tickOf(job, step.id);
  if (!tick) return { state: 'open', quantity: 0, tick };
  if (tick.skipped) return { state: 'left', quantity: tick.quantity, tick };
  if (tick.done && tick.quantity >= step.quantity) return { state: 'done', quantity: tick.quantity, tick };
  return { state: tick.quantity > 0 ? 'part' : 'open', quantity: tick.quantity, tick };
}

/** What is ticked beside the steps: points of the walk-through, what is counted back, bags into the van and out of it. */
const BESIDE = ['walk.', 'back.', 'van.', 'out.'];

/** Ticks of steps that the plan no longer has: done, no longer needed. */
export function strayTicks(job: Job, steps: readonly Pick<Step, 'id'>[]): Tick[] {
  const known = new Set(steps.map((s) => s.id));
  const ids = [...new Set(Object.values(job.ticks).flatMap((t) => (t && !known.has(t.step) && !BESIDE.some((p) => t.step.startsWith(p)) ? [t.step] : [])))].sort();
  return ids.flatMap((id) => {
    const tick = tickOf(job, id);
    return tick?.done ? [tick] : [];
  });
}

/** Whom a step was given to, by the id in the crew; empty is as planned. The highest turn holds, and of equal turns the device whose
 *  name comes last, as the plan has it. */
export function assignedTo(job: Job, step: string): string {
  let best: Assigned | null = null;
  for (const said of Object.values(job.assigned)) {
    if (!said || said.step !== step) continue;
    if (!best || said.turn > best.turn || (said.turn === best.turn && said.device > best.device)) best = said;
  }
  return best?.crew ?? '';
}
