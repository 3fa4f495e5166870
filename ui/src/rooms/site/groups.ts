// The checklist in the parts of a working day, and which part is open at first.
import type { DayPhase, Job, Phase, Plan, Step } from '../../desk';
import { stepState } from '../../state/ticks';

/** A part of the job by where it is done. */
export type GroupId = 'studio' | 'load' | 'site' | 'strike';

/** A phase that has steps. */
export type StepPhase = Phase & DayPhase;

export const GROUPS: { id: GroupId; phases: StepPhase[] }[] = [
  { id: 'studio', phases: ['order', 'prepare', 'pack'] },
  { id: 'load', phases: ['load'] },
  { id: 'site', phases: ['install', 'hand_over'] },
  { id: 'strike', phases: ['strike'] },
];

/** The steps of a part, in the order of the plan. */
export function stepsOf(plan: Plan, id: GroupId): Step[] {
  const phases: Phase[] = GROUPS.find((g) => g.id === id)?.phases ?? [];
  return plan.steps.filter((s) => phases.includes(s.phase));
}

/** A step that needs nothing more: done, or left out. */
export function settled(job: Job, step: Step): boolean {
  const state = stepState(job, step).state;
  return state === 'done' || state === 'left';
}

/** The part to open: by the clock from leaving on; before that the first with an open step. */
export function groupFor(job: Job, plan: Plan, nowMs: number): GroupId {
  const strike = plan.tasks.find((t) => t.id === 'strike')?.start_ms;
  const day = 24 * 3600_000;
  if (strike && nowMs >= strike && nowMs < strike + day) return 'strike';
  const leave = plan.figures.leave_by_ms;
  if (leave && nowMs >= leave && nowMs < leave + day && stepsOf(plan, 'site').some((s) => !settled(job, s))) return 'site';
  return GROUPS.find((g) => stepsOf(plan, g.id).some((s) => !settled(job, s)))?.id ?? 'strike';
}

/** Neighbours in the list that are done at one place: where their piece goes, or the piece where nobody said. */
export function byPlace(job: Job, steps: Step[]): { name: string; steps: Step[] }[] {
  const list: { name: string; steps: Step[] }[] = [];
  for (const step of steps) {
    const piece = job.pieces[step.piece];
    const name = piece?.spot.trim() || piece?.name.trim() || '';
    const last = list[list.length - 1];
    if (last?.name === name) last.steps.push(step);
    else list.push({ name, steps: [step] });
  }
  return list;
}
