// The day as it goes, asked anew when a tick comes, the plan changes, or a minute has passed.
import { compute, type Depth, type Job, type Live, type Plan } from '../desk';
import { instantAt } from '../rooms/times/axis';

/** The day is looked at from so long before the first work, ms. */
const BEFORE = 2 * 3_600_000;
/** And until so long after everything should stand. */
const AFTER = 6 * 3_600_000;

/** Whether now is near the work: before and after it there is nothing to forecast. */
export function isNear(plan: Plan, nowMs: number, readyMs: number | null = null): boolean {
  // work that has no time any more, since nobody is left for it, is told on the day too
  const to = plan.tasks.find((x) => x.id === 'finish')?.end_ms ?? readyMs;
  const from = plan.figures.start_by_ms ?? to;
  return from !== null && to !== null && nowMs >= from - BEFORE && nowMs <= to + AFTER;
}

/** The newest answer; an older one never takes its place. */
export class LiveDay {
  now = $state.raw<Live | null>(null);
  #turn = 0;

  async ask(job: Job, plan: Plan, depth: Depth, nowMs: number): Promise<void> {
    const turn = ++this.#turn;
    if (!isNear(plan, nowMs, instantAt(job.times.ready_by, job.venue.zone))) {
      this.now = null;
      return;
    }
    try {
      const live = await compute('live', { job, now_ms: nowMs, depth });
      if (turn === this.#turn) this.now = live;
    } catch {
      // a plan that was stopped for a newer one: the next tick, edit or minute asks again
    }
  }
}
