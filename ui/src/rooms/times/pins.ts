// Edits that pin a task to a time, set how many people do it, and take both off.
import type { Edit, Job } from '../../desk';
import { add, live, remove, set } from '../../state/lists';

/** The task of a pin that holds the start of the whole work. */
export const START = 'start';

/** The id of a task's pin: one for each task on every device. */
export const pinId = (task: string) => task.replace(/[^a-z0-9_]/g, '-').slice(0, 64);

/** The pin of a task; undefined if it has none. */
export const pinOf = (job: Job, task: string) => live(job.pins).find((p) => p.task === task);

/** Pins a task to a wall time. */
export function pinEdits(job: Job, task: string, at: string): Edit[] {
  const id = pinId(task);
  const there = job.pins[id];
  if (!there) return [add(['pins'], id, { task, at })];
  const edits = [set(['pins', id, 'task'], task), set(['pins', id, 'at'], at)];
  return there.gone ? [{ op: 'restore', part: 'job', path: ['pins'], id } as Edit, ...edits] : edits;
}

/** Takes the pin off a task. */
export function unpinEdits(job: Job, task: string): Edit[] {
  const pin = pinOf(job, task);
  return pin ? [remove(['pins'], pin.id)] : [];
}

/** How many people a hand has set for a task; undefined if it is left to the plan. */
export const teamOf = (job: Job, task: string) => live(job.teams).find((x) => x.task === task);

/** Has a task done by so many people; null leaves it to the plan. */
export function teamEdits(job: Job, task: string, people: number | null): Edit[] {
  const id = pinId(task);
  const there = job.teams[id];
  if (people === null) return there && !there.gone ? [remove(['teams'], id)] : [];
  if (!there) return [add(['teams'], id, { task, people })];
  const edits = [set(['teams', id, 'task'], task), set(['teams', id, 'people'], people)];
  return there.gone ? [{ op: 'restore', part: 'job', path: ['teams'], id } as Edit, ...edits] : edits;
}
