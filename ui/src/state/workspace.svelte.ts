// Which job is open: follows the address, and keeps the job while the user looks into the stockroom and comes back.
import type { Fault } from '../desk';
import { asFault, OpenJob, type JobDesk } from './job.svelte';

/** At most one job is open at a time. */
export class Workspace {
  open = $state.raw<OpenJob | null>(null);
  /** why the wanted job is not open */
  fault = $state.raw<Fault | null>(null);
  #wanted: string | null = null;

  constructor(private desk: JobDesk) {}

  /** Opens a job, unless it is open already. */
  async show(id: string): Promise<void> {
    if (this.#wanted === id && this.fault === null) return;
    this.#wanted = id;
    this.fault = null;
    if (this.open?.id !== id) this.#close();
    try {
      const open = await OpenJob.open(id, this.desk);
      if (this.#wanted === id) this.open = open;
      else open.close(); // another job was asked for meanwhile
    } catch (thrown) {
      if (this.#wanted === id) this.fault = asFault(thrown);
    }
  }

  /** The database came back to this tab, or a file came in: what is open is read again. */
  async refresh(): Promise<void> {
    await this.open?.reload();
  }

  #close(): void {
    this.open?.close();
    this.open = null;
  }
}
