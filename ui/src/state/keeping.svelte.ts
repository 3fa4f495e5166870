// What this device has room for, and when everything was last copied off it.
import { callBytes, saveFile, storage, type call as deskCall } from '../desk';

const KEY = 'airwright.backup';
/** A backup older than this is called old, ms: common practice, no source. */
const OLD_MS = 7 * 24 * 3600_000;
/** From this share of the room on, photos are in danger of being refused. */
const NEARLY_FULL = 0.85;

/** How full the browser's room is; null where it does not say. */
export interface Room {
  /** bytes */
  used: number;
  /** bytes */
  all: number;
  /** the next photos may not be kept */
  nearlyFull: boolean;
}

/** Asks the browser how much of its room is used. */
export async function room(from: Pick<StorageManager, 'estimate'> | undefined = storage): Promise<Room | null> {
  try {
    const { usage, quota } = (await from?.estimate?.()) ?? {};
    if (usage === undefined || !quota) return null;
    return { used: usage, all: quota, nearlyFull: usage >= quota * NEARLY_FULL };
  } catch {
    return null;
  }
}

/** Photos that were freed since the page was opened. */
export const freed = $state({ photos: 0, bytes: 0 });

/** Frees photos that nothing names any more, a few jobs at a time, so that whoever asks for something in between waits no longer. */
export async function sweepPhotos(call: typeof deskCall): Promise<void> {
  try {
    for (let more = true; more; ) {
      const swept = await call('sweep_photos');
      freed.photos += swept.photos;
      freed.bytes += swept.bytes;
      more = swept.more;
    }
  } catch {
    // nobody asked for it, and nothing is lost: the next start tries again
  }
}

/** Bytes as a person reads them: `300 kB`, `1.2 GB`. */
export function bytes(n: number): string {
  const [unit, size] = n >= 1e9 ? ['GB', 1e9] : n >= 1e6 ? ['MB', 1e6] : ['kB', 1e3];
  const amount = n / size;
  return `${amount < 10 ? amount.toFixed(1) : Math.round(amount)} ${unit}`;
}

/** When the last backup was made on this device. */
export class Backups {
  /** ms since 1970; null is never */
  lastMs = $state<number | null>(null);

  constructor(private storage: Pick<Storage, 'getItem' | 'setItem'> | undefined = safeStorage()) {
    const kept = Number(read(storage));
    this.lastMs = Number.isFinite(kept) && kept > 0 ? kept : null;
  }

  /** Whether it is time for another. */
  due(nowMs: number): boolean {
    return this.lastMs === null || nowMs - this.lastMs > OLD_MS;
  }

  /** Saves the whole database as a file. Answers where; null if the user went back. Refused with a `Fault`. */
  async make(): Promise<string | null> {
    const { answer, body } = await callBytes('backup');
    const where = await saveFile(answer.name, body, answer.mime);
    if (where !== null) this.made(Date.now());
    return where;
  }

  /** One was made. */
  made(nowMs: number): void {
    this.lastMs = nowMs;
    try {
      this.storage?.setItem(KEY, String(nowMs));
    } catch {
      // a private window or full storage: it reminds once more next time
    }
  }
}

function read(storage: Pick<Storage, 'getItem'> | undefined): string | null {
  try {
    return storage?.getItem(KEY) ?? null;
  } catch {
    return null;
  }
}

function safeStorage(): Storage | undefined {
  try {
    return globalThis.localStorage;
  } catch {
    return undefined; // storage is refused altogether
  }
}

export const backups = new Backups();
