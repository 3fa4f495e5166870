// The list of jobs, and the first start that fills an empty database with a demo job.
import type { call as deskCall, Fault, JobRow } from '../desk';
import { number } from '../format/number';
import { day, wallNow } from '../format/time';
import type { TapeFigure } from '../frame/tape';
import { t } from '../texts/t';
import { asFault } from './job.svelte';

/** Stages in which a job is no longer ahead. */
const OVER = ['done', 'closed', 'cancelled', 'postponed'];

/** All jobs as the store lists them. */
export class JobsList {
  /** The next one first; null before they are read. */
  rows = $state.raw<JobRow[] | null>(null);
  fault = $state.raw<Fault | null>(null);

  constructor(
    private call: typeof deskCall,
    private now: () => Date = () => new Date(),
  ) {}

  /** Reads the list; on an empty database makes the demo job first. */
  async load(): Promise<void> {
    try {
      await this.call('first_start', { today: wallNow(this.now()).slice(0, 10) });
      this.rows = await this.call('list_jobs');
      this.fault = null;
    } catch (thrown) {
      this.fault = asFault(thrown);
    }
  }

  /** Jobs that are still to be done, the next first. */
  get ahead(): JobRow[] {
    return (this.rows ?? []).filter((r) => !r.gone && !OVER.includes(r.stage));
  }

  /** The figures of the tape beside the jobs. */
  get figures(): TapeFigure[] {
    if (this.rows === null) return [];
    const next = this.ahead.find((r) => r.ready_by !== '');
    const count = this.ahead.length;
    const figures = [{ id: 'ahead', figure: number(count), unit: '', word: t('tape.jobs_ahead', { n: count }), asks: false }];
    if (next) figures.push({ id: 'next', figure: day(next.ready_by), unit: '', word: t('tape.next_job', { name: next.name }), asks: false });
    return figures;
  }
}
