// The strip that says what just happened and takes it back.

/** How long the strip stays when nobody touches it, ms. */
const STAYS_MS = 8000;

/** What the strip's button does, and its word. */
export interface Way {
  label: string;
  run: () => void;
}

/** What the strip says. */
export interface Said {
  id: number;
  text: string;
  way: Way | null;
}

/** What the strip shows: one thing at a time, the newest. */
export class UndoStripState {
  said = $state.raw<Said | null>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #held = false;
  #next = 0;

  /** Says what happened; with `way`, offers to take it back. */
  say(text: string, way: Way | null = null): void {
    this.said = { id: this.#next++, text, way };
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

  /** Goes the way that was offered, once. */
  go(): void {
    const way = this.said?.way;
    this.clear();
    way?.run();
  }

  /** Something newer was done without words of its own: what was said before would take that back, and its words name another. */
  outdate(before: Said | null): void {
    if (before?.way && this.said === before) this.clear();
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
