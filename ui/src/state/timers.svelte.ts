// How long each step takes, by this device's own timer. Kept in the browser's own storage until the step is ticked; then the tick has it.
interface Running {
  /** counted so far, ms */
  ms: number;
  /** running since, ms since 1970; null is paused */
  since: number | null;
}

type Kept = Record<string, Running>;

const KEY = 'airwright.timers';
/** A timer that was forgotten says nothing about the work, ms. */
const FORGOTTEN_MS = 12 * 3600_000;

/** Timers by job and step. Nothing ticks here: the time is counted when it is asked for. */
export class StepTimers {
  #kept = $state.raw<Kept>({});

  constructor(private storage: Pick<Storage, 'getItem' | 'setItem'> | undefined = safeStorage()) {
    this.#kept = read(storage);
  }

  /** Whether a step's timer runs, stands, or was never begun. */
  state(job: string, step: string): 'none' | 'runs' | 'paused' {
    const one = this.#kept[key(job, step)];
    return !one ? 'none' : one.since === null ? 'paused' : 'runs';
  }

  /** What it has counted, ms. */
  counted(job: string, step: string, nowMs: number): number {
    const one = this.#kept[key(job, step)];
    if (!one) return 0;
    // a clock that was set back counts nothing
    const running = one.since === null ? 0 : Math.min(FORGOTTEN_MS, Math.max(0, nowMs - one.since));
    return one.ms + running;
  }

  /** Starts it, or goes on after a pause. */
  start(job: string, step: string, nowMs: number): void {
    if (this.state(job, step) === 'runs') return;
    this.#put(key(job, step), { ms: this.counted(job, step, nowMs), since: nowMs });
  }

  pause(job: string, step: string, nowMs: number): void {
    if (this.state(job, step) !== 'runs') return;
    this.#put(key(job, step), { ms: this.counted(job, step, nowMs), since: null });
  }

  /** Forgets it: the step is ticked, or it was begun by mistake. */
  clear(job: string, step: string): void {
    const { [key(job, step)]: _, ...rest } = this.#kept;
    this.#write(rest);
  }

  #put(name: string, one: Running) {
    this.#write({ ...this.#kept, [name]: one });
  }

  #write(kept: Kept) {
    this.#kept = kept;
    try {
      this.storage?.setItem(KEY, JSON.stringify(kept));
    } catch {
      // a private window or full storage: the timer holds for as long as the page is open
    }
  }
}

const key = (job: string, step: string) => `${job}/${step}`;

/** What is kept, with anything of no sense left out. */
function read(storage: Pick<Storage, 'getItem'> | undefined): Kept {
  try {
    const raw: unknown = JSON.parse(storage?.getItem(KEY) ?? '{}');
    if (typeof raw !== 'object' || raw === null) return {};
    const sound = (one: unknown): one is Running => {
      const some = one as Partial<Running> | null;
      return typeof some?.ms === 'number' && some.ms >= 0 && (some.since === null || typeof some.since === 'number');
    };
    return Object.fromEntries(Object.entries(raw).filter((entry): entry is [string, Running] => sound(entry[1])));
  } catch {
    return {};
  }
}

function safeStorage(): Storage | undefined {
  try {
    return globalThis.localStorage;
  } catch {
    return undefined; // storage is refused altogether
  }
}

export const timers = new StepTimers();
