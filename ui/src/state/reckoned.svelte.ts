// What is reckoned only when it is asked for: kept with what it was reckoned for, stopped by hand, and stale once that has changed.
import { asFault, type OpenJob } from './job.svelte';

/** `on` is what it depends on: when that changes, what was reckoned is stale. `label` says what was refused. */
export class Reckoned<T> {
  value = $state.raw<T | null>(null);
  #for = $state.raw<unknown>(null);
  #work = $state.raw<AbortController | null>(null);

  constructor(
    private open: OpenJob,
    private on: () => unknown,
    private label: () => string,
  ) {}

  get working(): boolean {
    return this.#work !== null;
  }

  get stale(): boolean {
    return this.value !== null && this.#for !== this.on();
  }

  /** `reckon` answers it whole; it may set `value` before that as parts of it come. A refusal is shown like one of an edit. */
  async ask(reckon: (signal: AbortSignal) => Promise<T>): Promise<void> {
    const work = new AbortController();
    this.#work = work;
    this.#for = this.on();
    this.value = null;
    try {
      this.value = await reckon(work.signal);
    } catch (thrown) {
      if (!work.signal.aborted) this.open.refused = { ...asFault(thrown), label: this.label() };
    } finally {
      this.#work = null;
    }
  }

  stop(): void {
    this.#work?.abort();
  }
}
