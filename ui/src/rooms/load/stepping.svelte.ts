// Which trip is looked at, and how far the loading or unloading of it has come.
import { inOrder, trips, type Stood, type Stowable, type Way } from './stowed';

/** One look at a load. The load may change under it: what is gone is let go. */
export class Stepping {
  #load: () => Stowable;
  #trip = $state(1);
  way = $state<Way>('in');
  #at = $state<number | null>(null);
  #picked = $state<string | null>(null);

  readonly trips = $derived.by(() => trips(this.#load()));
  /** the trip that is looked at; absent where nothing is stowed */
  readonly trip = $derived(this.trips.find((one) => one.run.trip === this.#trip) ?? this.trips[0]);
  readonly order = $derived(this.trip ? inOrder(this.trip, this.way) : []);
  /** the place in the order of what is in hand, from 0; null is the whole load */
  readonly at = $derived(this.#at === null || this.order.length === 0 ? null : Math.min(this.#at, this.order.length - 1));
  /** what is in hand, or was tapped */
  readonly now = $derived.by((): Stood | null => {
    const tapped = this.order.find((s) => s.parcel.code === this.#picked);
    return tapped ?? (this.at === null ? null : (this.order[this.at] ?? null));
  });

  constructor(load: () => Stowable) {
    this.#load = load;
  }

  /** Looks at another trip, whole. */
  see(trip: number): void {
    [this.#trip, this.#at, this.#picked] = [trip, null, null];
  }

  /** Loading or unloading, from its beginning if it was begun. */
  turn(way: Way): void {
    [this.way, this.#picked] = [way, null];
    if (this.#at !== null) this.#at = 0;
  }

  /** To a place in the order; null is the whole load. */
  to(at: number | null): void {
    [this.#at, this.#picked] = [at === null ? null : Math.min(this.order.length - 1, Math.max(0, at)), null];
  }

  /** The next one, or the one before. Before the first and after the last stands the whole load. */
  go(by: 1 | -1): void {
    const last = this.order.length - 1;
    if (this.at === null) this.to(by > 0 ? 0 : last);
    else if (this.at + by < 0 || this.at + by > last) this.to(null);
    else this.to(this.at + by);
  }

  /** One parcel of any trip: its trip is looked at. */
  pick(code: string): void {
    const trip = this.trips.find((one) => one.stood.some((s) => s.parcel.code === code));
    if (!trip) return;
    if (trip !== this.trip) this.see(trip.run.trip);
    const at = this.order.findIndex((s) => s.parcel.code === code);
    // while the load is stepped through, one that is not in yet is stepped to
    if (this.#at !== null) this.#at = at;
    this.#picked = code;
  }

  /** Nothing is picked any more. */
  drop(): void {
    this.#picked = null;
  }
}
