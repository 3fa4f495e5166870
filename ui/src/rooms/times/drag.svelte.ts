// Dragging a bar along the clock. A mouse or a pen drags at once; a finger scrolls, and drags what it has held for a moment.

/** Moved by less than this it was a press, px. */
const MEANT = 6;
/** A finger holds a bar so long before it drags it, ms: about what phones take for a long press. */
const HELD_MS = 350;

/** One drag at a time. */
export class Dragging {
  /** what is held; empty if nothing */
  of = $state('');
  /** how far it was moved, px */
  by = $state(0);
  /** a finger has held it long enough */
  lifted = $state(false);
  #from = 0;
  #down = false;
  #free = true;
  #meant = false;
  #hold: ReturnType<typeof setTimeout> | undefined;
  /** whether the gesture that ended last moved something: the click that it ends with is not meant then */
  moved = false;

  /** `free` is whether it may be moved at all. */
  begin(e: PointerEvent, id: string, down: boolean, free: boolean): void {
    if (e.button !== 0) return;
    this.cancel();
    this.of = id;
    this.#down = down;
    this.#from = down ? e.clientY : e.clientX;
    const touch = e.pointerType === 'touch';
    this.#free = free && !touch;
    this.moved = false;
    const [bar, pointer] = [e.currentTarget as HTMLElement, e.pointerId];
    if (this.#free) bar.setPointerCapture(pointer);
    if (free && touch) this.#hold = setTimeout(() => this.#lift(), HELD_MS);
  }

  #lift(): void {
    this.#free = true;
    this.lifted = true;
    // felt where the device can; elsewhere the bar is seen to rise
    navigator.vibrate?.(15);
  }

  move(e: PointerEvent): void {
    if (this.of === '') return;
    const by = (this.#down ? e.clientY : e.clientX) - this.#from;
    if (!this.#free && Math.abs(by) >= MEANT) clearTimeout(this.#hold);
    if (!this.#free || (!this.#meant && Math.abs(by) < MEANT)) return;
    this.#meant = true;
    this.by = by;
  }

  /** How far it was moved, px; null if it was only pressed. */
  end(): number | null {
    const by = this.#meant ? this.by : null;
    this.moved = this.#meant;
    this.cancel();
    return by;
  }

  cancel(): void {
    clearTimeout(this.#hold);
    this.of = '';
    this.by = 0;
    this.lifted = false;
    this.#meant = false;
  }

  /** What a finger has lifted goes with it, and the page stays: for an element that begins drags. */
  steady = (bar: HTMLElement): (() => void) => {
    const stay = (e: Event) => this.lifted && e.preventDefault();
    bar.addEventListener('touchmove', stay, { passive: false });
    bar.addEventListener('contextmenu', stay);
    return () => {
      bar.removeEventListener('touchmove', stay);
      bar.removeEventListener('contextmenu', stay);
    };
  };
}

export const dragging = () => new Dragging();
