// What a piece would come to while one of its measures is still being dragged: by the instant rule, before anything is kept.
import type { compute as deskCompute, Job, Piece } from '../../desk';

/** The balloons of a piece as it would be. One question at a time; of those that come meanwhile only the last is asked. */
export class Imagined {
  /** null while nothing is dragged */
  balloons = $state.raw<number | null>(null);
  #compute: typeof deskCompute;
  #asking = false;
  #next: { job: Job; id: string; piece: Piece } | null = null;
  #turn = 0;

  constructor(compute: typeof deskCompute) {
    this.#compute = compute;
  }

  /** Asks for a piece changed so. What else is in the job does not count. */
  async look(job: Job, id: string, piece: Piece): Promise<void> {
    this.#next = { job, id, piece };
    if (this.#asking) return;
    this.#asking = true;
    const turn = this.#turn;
    while (this.#next && turn === this.#turn) {
      const asked = this.#next;
      this.#next = null;
      try {
        const plan = await this.#compute('plan', { job: { ...asked.job, pieces: { [asked.id]: asked.piece } }, private: null, depth: 'instant' });
        if (turn === this.#turn) this.balloons = plan.pieces.find((p) => p.piece === asked.id)?.balloons ?? null;
      } catch {
        // the count stays as it was; the plan that follows says what is wrong
      }
    }
    this.#asking = false;
    if (this.#next) await this.look(this.#next.job, this.#next.id, this.#next.piece);
  }

  /** Nothing is dragged any more: the plan has the count. */
  drop(): void {
    this.#turn++;
    this.#next = null;
    this.balloons = null;
  }
}
