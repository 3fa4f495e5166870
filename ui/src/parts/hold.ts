// A button that goes on while it is held.

/** Held this long, it begins to repeat, ms. */
const WAIT_MS = 400;
/** Then it repeats this often, ms; after `FAST_FROM` times twice as often. */
const EACH_MS = 90;
const FAST_FROM = 12;

/** Presses once on a tap or a key, and again and again while held; `done` comes once, when the press is over. */
export class HoldRepeat {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #times = 0;
  #down = false;

  constructor(
    private press: () => void,
    private done: () => void,
  ) {}

  /** The handlers to spread on a button. */
  readonly on = {
    onpointerdown: (e: PointerEvent) => {
      if (e.button !== 0) return;
      this.#down = true;
      this.#times = 0;
      // the press goes on when the finger slides off the button
      (e.currentTarget as Element).setPointerCapture?.(e.pointerId);
      this.#go();
    },
    onpointerup: () => this.#end(),
    onpointercancel: () => this.#end(),
    oncontextmenu: (e: Event) => e.preventDefault(), // a long press is ours
    onclick: (e: MouseEvent) => {
      if (e.detail !== 0) return; // a pointer's click was the press; a key's or a reader's click is not
      this.press();
      this.done();
    },
  };

  #go(): void {
    this.press();
    const wait = this.#times === 0 ? WAIT_MS : this.#times < FAST_FROM ? EACH_MS : EACH_MS / 2;
    this.#times++;
    this.#timer = setTimeout(() => this.#go(), wait);
  }

  #end(): void {
    if (!this.#down) return;
    this.#down = false;
    clearTimeout(this.#timer);
    this.done();
  }
}
