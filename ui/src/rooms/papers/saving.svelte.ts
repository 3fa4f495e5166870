// Files that go out of this room: what is being made, where it went, what was refused.
import type { Content, Fault, SheetSize } from '../../desk';
import { saveFile } from '../../desk';
import { asFault } from '../../state/job.svelte';
import { undoStrip } from '../../state/undo.svelte';
import { t } from '../../texts/t';

/** A file as it comes from the desk. */
interface Made {
  name: string;
  mime: string;
  body: Content;
}

/** One list of files to save: one is made at a time. */
export class Saving {
  /** what is being made, in words; null when nothing is */
  making = $state.raw<string | null>(null);
  /** why the last one was not saved; null after the next success */
  fault = $state.raw<Fault | null>(null);
  #stop: AbortController | null = null;

  /** Makes a file and saves it under `title`, and says where it went; `give` hands it on
   *  instead of saving it. While one is made, another is not begun. */
  async save(title: string, make: (signal: AbortSignal) => Promise<Made>, give: typeof saveFile = saveFile): Promise<void> {
    if (this.#stop) return;
    this.#stop = new AbortController();
    this.making = title;
    this.fault = null;
    try {
      const made = await make(this.#stop.signal);
      const where = await give(made.name, made.body, made.mime);
      if (where !== null) undoStrip.say(t('papers.saved', { name: title, where }));
    } catch (thrown) {
      const fault = asFault(thrown);
      if (fault.code !== 'stopped') this.fault = fault;
    } finally {
      this.#stop = null;
      this.making = null;
    }
  }

  /** Gives up what is being made. */
  stop(): void {
    this.#stop?.abort();
  }
}

/** The sheet that was chosen, until the page is left; null follows the units of the device. */
export const sheet = $state<{ size: SheetSize | null }>({ size: null });
