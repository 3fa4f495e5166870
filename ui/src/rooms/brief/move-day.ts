// The whole job on another day: every agreed time and every pin by the same number of days, at the same time of day by the venue's clock,
// whatever the clock does between. When somebody is away, and what is to be paid when, was not agreed for the day of the job: it stays.
import type { Edit, Job } from '../../desk';
import { live, set } from '../../state/lists';
import { plus } from '../jobs/days';

export const TIMES = ['load_in', 'ready_by', 'doors_open', 'strike_from', 'strike_by'] as const;

/** The day of the job, `YYYY-MM-DD`; empty while no time is agreed. */
export const dayOf = ({ times }: Pick<Job, 'times'>): string => (times.ready_by || times.load_in || times.doors_open || times.strike_from || times.strike_by).slice(0, 10);

/** A wall time so many days later; what cannot be read stays as it is. */
const later = (wall: string, days: number) => (/^\d{4}-\d{2}-\d{2}T/.test(wall) && !Number.isNaN(Date.parse(`${wall.slice(0, 10)}T00:00Z`)) ? plus(wall.slice(0, 10), days) + wall.slice(10) : wall);

/** The edits that move a job by so many days. */
export function moveEdits(job: Pick<Job, 'times' | 'pins'>, days: number): Edit[] {
  const times = TIMES.map((field) => ({ path: ['times', field], wall: job.times[field] }));
  const pins = live(job.pins).map((p) => ({ path: ['pins', p.id, 'at'], wall: p.at }));
  return [...times, ...pins].filter(({ wall }) => later(wall, days) !== wall).map(({ path, wall }) => set(path, later(wall, days)));
}
