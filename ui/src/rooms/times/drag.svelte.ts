// Dragging a bar along the clock with a mouse or a pen. A finger scrolls; for it the sheet of the task has buttons.

/** Moved by less than this it was a press, px. */
const MEANT = 6;

/** One drag at a time. */
export class Dragging {
  /** what is held; empty if nothing */
  of = $state('');
  /** how far it was moved, px */
  by = $state(0);
  #from = 0;
  #down = false;
  #free = true;
  #meant = false;
  /** whether the gesture that ended last moved something: the click that it ends with is not meant then */
  moved = false;

  /** `free` is whether it may be moved at all. */
  begin(e: PointerEvent, id: string, down: boolean, free: boolean): void {
    if (e.button !== 0) return;
    this.of = id;
    this.by = 0;
    this.#down = down;
    this.#from = down ? e.clientY : e.clientX;
    this.#free = free && e.pointerType !== 'touch';
    this.#meant = false;
    this.moved = false;
    if (this.#free) (e.currentTarget as HTMLElement).setPointerCapture(e.pointerId);
  }

  move(e: PointerEvent): void {
    if (this.of === '' || !this.#free) return;
    const by = (this.#down ? e.clientY : e.clientX) - this.#from;
    if (!this.#meant && Math.abs(by) < MEANT) return;
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
    this.of = '';
    this.by = 0;
    this.#meant = false;
  }
}

export const dragging = () => new Dragging();
