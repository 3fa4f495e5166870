// What belongs to this device and its user, not to a job: kept in the browser's own storage.
import type { Clock } from '../format/time';
import type { Units } from '../format/units';

/** `system` follows the device between paper and hall. */
export type Theme = 'system' | 'paper' | 'hall' | 'sun';
/** A theme as it is painted. */
export type Painted = Exclude<Theme, 'system'>;

/** Behind a picture that is saved: a room of paper, nothing, the photograph of the venue. */
export type Behind = 'paper' | 'clear' | 'photo';

interface Kept {
  theme: Theme;
  leftHanded: boolean;
  largeText: boolean;
  units: Units;
  clock: Clock;
  /** whose device this is: stands on ticks and notes */
  who: string;
  /** of the picture in Design only a strip stays in sight */
  foldedPicture: boolean;
  /** the pieces stand before the venue's photograph, where there is one with a measure */
  beforeVenue: boolean;
  /** what lies behind the pieces in a picture that is saved */
  savedBehind: Behind;
}

const KEY = 'airwright.settings';
const FRESH: Kept = { theme: 'system', leftHanded: false, largeText: false, units: 'metric', clock: '24h', who: '', foldedPicture: false, beforeVenue: true, savedBehind: 'paper' };
/** The order in which a long press on the clock of Site goes through the themes. */
const ROUND: Painted[] = ['paper', 'hall', 'sun'];

/** The settings of this device. Every change is kept at once; where the device refuses to keep, it holds until the page is left. */
export class Settings {
  #kept = $state<Kept>(FRESH);
  #systemDark = $state(false);

  constructor(
    private storage: Pick<Storage, 'getItem' | 'setItem'> | undefined = safeStorage(),
    dark = darkQuery(),
  ) {
    this.#kept = read(storage);
    this.#systemDark = dark?.matches ?? false;
    dark?.addEventListener('change', (e) => (this.#systemDark = e.matches));
  }

  get theme(): Theme {
    return this.#kept.theme;
  }
  get leftHanded(): boolean {
    return this.#kept.leftHanded;
  }
  get largeText(): boolean {
    return this.#kept.largeText;
  }
  get units(): Units {
    return this.#kept.units;
  }
  get clock(): Clock {
    return this.#kept.clock;
  }
  get who(): string {
    return this.#kept.who;
  }

  get foldedPicture(): boolean {
    return this.#kept.foldedPicture;
  }
  get beforeVenue(): boolean {
    return this.#kept.beforeVenue;
  }
  get savedBehind(): Behind {
    return this.#kept.savedBehind;
  }

  /** The theme to paint now. */
  get painted(): Painted {
    if (this.#kept.theme !== 'system') return this.#kept.theme;
    return this.#systemDark ? 'hall' : 'paper';
  }

  /** Changes some settings and keeps them. */
  change(some: Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...some };
    try {
      this.storage?.setItem(KEY, JSON.stringify(this.#kept));
    } catch {
      // a private window or full storage: the setting holds for as long as the page is open
    }
  }

  /** Paper, hall, sun, paper: the next theme after the one that is painted. */
  nextTheme(): void {
    const next = ROUND[(ROUND.indexOf(this.painted) + 1) % ROUND.length] ?? 'paper';
    this.change({ theme: next });
  }
}

/** What is kept, with anything that is missing or of no sense replaced by the fresh value. */
function read(storage: Pick<Storage, 'getItem'> | undefined): Kept {
  let raw: unknown;
  try {
    raw = JSON.parse(storage?.getItem(KEY) ?? '{}');
  } catch {
    return FRESH;
  }
  const some = (typeof raw === 'object' && raw !== null ? raw : {}) as Record<string, unknown>;
  const oneOf = <T>(value: unknown, allowed: readonly T[], fresh: T): T =>
    allowed.includes(value as T) ? (value as T) : fresh;
  return {
    theme: oneOf<Theme>(some['theme'], ['system', 'paper', 'hall', 'sun'], FRESH.theme),
    leftHanded: oneOf(some['leftHanded'], [true, false], FRESH.leftHanded),
    largeText: oneOf(some['largeText'], [true, false], FRESH.largeText),
    units: oneOf<Units>(some['units'], ['metric', 'us'], FRESH.units),
    clock: oneOf<Clock>(some['clock'], ['24h', '12h'], FRESH.clock),
    who: typeof some['who'] === 'string' ? some['who'].slice(0, 80) : FRESH.who,
    foldedPicture: oneOf(some['foldedPicture'], [true, false], FRESH.foldedPicture),
    beforeVenue: oneOf(some['beforeVenue'], [true, false], FRESH.beforeVenue),
    savedBehind: oneOf<Behind>(some['savedBehind'], ['paper', 'clear', 'photo'], FRESH.savedBehind),
  };
}

function safeStorage(): Storage | undefined {
  try {
    return globalThis.localStorage;
  } catch {
    return undefined; // storage is refused altogether
  }
}

function darkQuery(): MediaQueryList | undefined {
  return globalThis.matchMedia?.('(prefers-color-scheme: dark)');
}

export const settings = new Settings();
