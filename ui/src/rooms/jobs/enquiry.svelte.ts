// Can we take this enquiry? The jobs near its day are opened once; the answer is asked anew when the question has changed.
import type { AskEnquiry, call as deskCall, compute as deskCompute, Enquiry, Fault, JobRow } from '../../desk';
import { asFault } from '../../state/job.svelte';
import { near } from './together.svelte';

/** What is asked, without the other jobs. */
export type Question = Omit<AskEnquiry, 'others'>;

interface Desk {
  call: typeof deskCall;
  compute: typeof deskCompute;
}

/** The newest answer, with the jobs it was held against: `other` of the answer counts them from 1. */
export class Asking {
  said = $state.raw<Enquiry | null>(null);
  others = $state.raw<JobRow[]>([]);
  fault = $state.raw<Fault | null>(null);
  working = $state(false);
  #turn = 0;

  constructor(private desk: Desk) {}

  /** Asks about a job that must stand at `readyMs`; `id` is its own, if it is one already. */
  async ask(question: Question, readyMs: number, id = ''): Promise<void> {
    const turn = ++this.#turn;
    this.working = true;
    try {
      const rows = await this.desk.call('list_jobs');
      const around = near([...rows.filter((r) => r.id !== id), asked(rows, readyMs)], ASKED).filter((r) => r.id !== ASKED);
      const others = [];
      for (const row of around) others.push((await this.desk.call('open_job', { id: row.id })).job);
      if (turn !== this.#turn) return;
      const said = await this.desk.compute('enquiry', { ...question, others });
      if (turn !== this.#turn) return;
      this.others = around;
      this.said = said;
      this.fault = null;
    } catch (thrown) {
      if (turn === this.#turn) this.fault = asFault(thrown);
    } finally {
      if (turn === this.#turn) this.working = false;
    }
  }

  /** Nothing is asked any more. */
  rest(): void {
    this.#turn++;
    this.said = null;
    this.fault = null;
    this.working = false;
  }

  /** The job that a number of the answer stands for. */
  other(n: number): JobRow | undefined {
    return this.others[n - 1];
  }
}

const ASKED = '?';
/** A row for what is asked, so that its neighbours are those that every other job has. */
function asked(rows: readonly JobRow[], readyMs: number): JobRow {
  const like = rows[0];
  return { ...(like as JobRow), id: ASKED, ready_by_ms: readyMs, gone: false, stage: 'enquiry' };
}
