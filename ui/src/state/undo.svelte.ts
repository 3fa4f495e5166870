// The strip that says what just happened and takes it back.

/** How long the strip stays when nobody touches it, ms. */
const STAYS_MS = 8000;

interface Said {
  id: number;
  text: string;
  undo: (() => void) | null;
}

/** What the strip shows: one thing at a time, the newest. */
export class UndoStripState {
  said = $state.raw<Said | null>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #held = false;
  #next = 0;

  /** Says what happened; with `undo`, offers to take it back. */
  say(text: string, undo: (() => void) | null = null): void {
    this.said = { id: this.#next++, text, undo };
    this.#held = false;
    this.#start();
  }

  /** The strip is focused or touched: it waits. */
  hold(): void {
    this.#held = true;
    clearTimeout(this.#timer);
  }

  /** It is left alone again: the eight seconds begin anew. */
  release(): void {
    this.#held = false;
    if (this.said) this.#start();
  }

  /** Takes back what was said, and goes. */
  undo(): void {
    const undo = this.said?.undo;
    this.clear();
    undo?.();
  }

  clear(): void {
    clearTimeout(this.#timer);
    this.said = null;
  }

  #start(): void {
    clearTimeout(this.#timer);
    if (!this.#held) this.#timer = setTimeout(() => this.clear(), STAYS_MS);
  }
}

export const undoStrip = new UndoStripState();
