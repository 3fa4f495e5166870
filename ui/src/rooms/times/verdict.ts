// Whether there are enough people and time, in one plain sentence.
import type { Job, Plan } from '../../desk';
import { duration } from '../../format/time';
import { live } from '../../state/lists';
import { listed } from '../jobs/clash-words';
import { t } from '../../texts/t';

/** Findings that say that the times do not hold. */
const AGAINST = ['no_people', 'too_few_people', 'no_driver', 'no_ladder', 'no_inflator', 'no_time', 'too_much_work', 'load_in_too_late', 'strike_too_long', 'too_old', 'too_old_outdoors', 'sinks_early', 'needs_two'];

/** `taken` says who is wanted elsewhere at the same time: then they are not enough. "Ada and Ben are enough. Hang and shape sets the pace." or what stands against it. */
export function verdict(job: Job, plan: Plan, taken = ''): string {
  const names = live(job.crew).map((c) => c.name || t('times.unnamed'));
  const against = plan.findings.filter((f) => f.severity === 'stop' && AGAINST.includes(f.code));
  const why = [taken, ...against.map((f) => f.message)].filter(Boolean).join(' ');
  if (why) return t('times.not_enough', { why });
  const who = listed(names);
  const enough = names.length > 1 ? t('times.are_enough', { who }) : t('times.is_enough', { who });
  const work = t('times.work_in_all', { work: duration(plan.figures.work_s / 60) });
  return `${enough} ${work}`;
}

/** Minutes from the doors opening until the carrying begins, or short if negative: as many short as the finding says. */
export const spareMin = (slackS: number): number => (slackS < 0 ? Math.ceil(-slackS / 60) : Math.round(slackS / 60));

/** When one comes, from the doors opening: no reserve, so it is never a figure beside the others. Empty if the time is short. */
export const doorWords = (slackS: number | null): string =>
  slackS === null || slackS < 0 ? '' : spareMin(slackS) === 0 ? t('times.at_load_in') : t('times.after_load_in', { by: duration(spareMin(slackS)) });
