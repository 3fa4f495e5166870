// What a field shows between the user's change and the backend's answer: the change, not a flicker of the old value.

/** Told of a change; a promise is waited for before the field shows the given value again. */
export type OnChange<T> = (value: T) => unknown;

/** A value that the user has changed and the owner has not yet answered. */
export class Draft<T> {
  #pending = $state.raw<{ value: T } | null>(null);
  #turn = 0;

  /** The value to show: the user's while there is one, else the owner's. */
  over(given: T): T {
    return this.#pending ? this.#pending.value : given;
  }

  /** The user is changing it; nobody is told yet. */
  hold(value: T): void {
    this.#turn++;
    this.#pending = { value };
  }

  /** Nothing is held any more. */
  drop(): void {
    this.#turn++;
    this.#pending = null;
  }

  /** Tells the owner, and shows the user's value until the owner has answered. */
  async commit(value: T, onchange: OnChange<T>): Promise<void> {
    this.hold(value);
    const turn = this.#turn;
    try {
      await onchange(value);
    } finally {
      if (turn === this.#turn) this.#pending = null; // no later change has come
    }
  }
}
