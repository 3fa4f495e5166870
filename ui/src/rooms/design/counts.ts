// A garland's balloons apart: on the line, in clusters kept back, fillers. A double-stuffed ball takes two.
import type { BallCount, GarlandPlan } from '../../desk';

/** Balloons by where they go. */
export interface Apart {
  line: number;
  kept_back: number;
  fillers: number;
}

/** Where the balloons of a garland go. They add up to the balloons of the piece. */
export function apart(plan: Pick<GarlandPlan, 'counts' | 'clusters' | 'fillers'>): Apart {
  const all = sum(plan.counts);
  const line = plan.clusters.reduce((n, c) => n + c.balls.reduce((m, b) => m + (b.inside ? 2 : 1), 0), 0);
  return { line, kept_back: Math.max(0, all - line), fillers: sum(plan.fillers) };
}

const sum = (counts: readonly BallCount[]) => counts.reduce((n, c) => n + c.balls * (c.inside ? 2 : 1), 0);
