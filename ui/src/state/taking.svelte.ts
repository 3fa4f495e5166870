// Job files that come in, from the dialog, by drag and drop or from the system: one after the other, looked into first,
// asked about where they would change the plan, then told.
import type { callBytes as deskBytes, compute as deskCompute, CameIn, Fault, Incoming, OpenedFile, Plan } from '../desk';
import { asFault } from './job.svelte';

/** The part of the desk that files need. */
export interface FilesDesk {
  callBytes: typeof deskBytes;
  compute: typeof deskCompute;
}

/** A file that would change the plan of a job that is here. */
export interface Asked {
  file: OpenedFile;
  incoming: Incoming;
}

export class Taking {
  /** what is being looked into, by its name; null when nothing is */
  reading = $state.raw<string | null>(null);
  /** the file that waits for an answer */
  asked = $state.raw<Asked | null>(null);
  /** the plans of the job as it is and as it would be; null while they are reckoned */
  plans = $state.raw<{ now: Plan; then: Plan } | 'failed' | null>(null);
  /** what came in last, until it has been read */
  came = $state.raw<CameIn | null>(null);
  fault = $state.raw<Fault | null>(null);
  #waiting: OpenedFile[] = [];

  /** `onCame` is told of every job that a file changed. */
  constructor(
    private desk: FilesDesk,
    private onCame: (id: string) => Promise<void>,
  ) {}

  /** Takes a file in, after those that came before it. */
  take(file: OpenedFile): void {
    this.#waiting.push(file);
    void this.#next();
  }

  /** The answer to what was asked: the file goes in. */
  async merge(): Promise<void> {
    const { file } = this.asked ?? {};
    this.#answered();
    if (file) await this.#open(file);
    void this.#next();
  }

  /** The answer to what was asked: everything stays as it is. */
  leave(): void {
    this.#answered();
    void this.#next();
  }

  /** What came in has been read. */
  close(): void {
    this.came = null;
    void this.#next();
  }

  /** What was refused has been read. */
  forgive(): void {
    this.fault = null;
    void this.#next();
  }

  async #next(): Promise<void> {
    // one at a time: until the last one has been answered and read
    if (this.reading !== null || this.asked || this.came || this.fault) return;
    const file = this.#waiting.shift();
    if (!file) return;
    this.reading = file.name;
    try {
      const { answer } = await this.desk.callBytes('look_into_job_file', null, file.bytes);
      if (answer.asks) this.#ask({ file, incoming: answer });
      else await this.#open(file);
    } catch (thrown) {
      this.fault = asFault(thrown);
    } finally {
      this.reading = null;
    }
  }

  async #open(file: OpenedFile): Promise<void> {
    this.reading = file.name;
    try {
      this.came = (await this.desk.callBytes('open_job_file', null, file.bytes)).answer;
      await this.onCame(this.came.id);
    } catch (thrown) {
      this.fault = asFault(thrown);
    } finally {
      this.reading = null;
    }
  }

  #ask(asked: Asked): void {
    const { before, after } = asked.incoming;
    if (!before) return;
    this.asked = asked;
    this.plans = null;
    // the choice does not wait for the figures; they are not stopped either, since that would end other plans with them
    const plan = (both: typeof after) => this.desk.compute('plan', { ...both, depth: 'preview' });
    void (async () => {
      const plans = await (async () => ({ now: await plan(before), then: await plan(after) }))().catch(() => 'failed' as const);
      if (this.asked === asked) this.plans = plans;
    })();
  }

  #answered(): void {
    this.asked = null;
    this.plans = null;
  }
}
