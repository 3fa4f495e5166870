// Small pictures for the list of jobs: cast beside the page, one at a time and only for rows that are on the screen, kept until the
// job changes. Until a picture is there its row shows the colours of its palette, and before they are known three plain beads.
import type { call as deskCall, computeBytes as deskComputeBytes, Job, JobRow } from '../../desk';
import { live } from '../../state/lists';

/** What a row shows of its job. */
export interface Look {
  /** the picture; null before it is cast, and where there is nothing to see */
  url: string | null;
  /** sRGB of the colours that its pieces use, the first few */
  beads: string[];
}

/** A picture's size in pixels: twice what it takes on the page, for sharp screens. */
export const SIZE = { width: 224, height: 152 } as const;
/** So many pictures are kept, about 20 kB each; the oldest go first. */
const KEPT = 200;
/** Beads that are shown. */
const BEADS = 4;

interface StillDesk {
  call: typeof deskCall;
  computeBytes: typeof deskComputeBytes;
}

/** Makes an address of a picture's bytes, and lets go of it. */
export interface Urls {
  make: (bytes: Uint8Array, mime: string) => string;
  free: (url: string) => void;
}

const objectUrls: Urls = {
  make: (bytes, mime) => URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type: mime })),
  free: (url) => URL.revokeObjectURL(url),
};

/** The pictures of a list. */
export class Stills {
  #known = $state.raw<ReadonlyMap<string, Look>>(new Map());
  #wanted = new Map<string, JobRow>();
  #working = false;

  constructor(
    private desk: StillDesk,
    private urls: Urls = objectUrls,
  ) {}

  /** What is known of a job as its row describes it; null before anything is. */
  of(row: JobRow): Look | null {
    return this.#known.get(key(row)) ?? null;
  }

  /** A row came on to the screen. */
  seen(row: JobRow): void {
    if (this.#known.get(key(row))?.url !== undefined) return;
    this.#wanted.set(key(row), row);
    void this.#work();
  }

  /** A row left the screen: its picture is cast when it comes back. */
  unseen(row: JobRow): void {
    this.#wanted.delete(key(row));
  }

  async #work(): Promise<void> {
    if (this.#working) return;
    this.#working = true;
    for (;;) {
      const next = this.#wanted.entries().next();
      if (next.done) break;
      const [at, row] = next.value;
      this.#wanted.delete(at);
      try {
        const { job } = await this.desk.call('open_job', { id: row.id });
        const beads = palette(job);
        this.#keep(at, { url: null, beads });
        const piece = foremost(job);
        if (piece === null) continue;
        const { answer, body } = await this.desk.computeBytes('picture', { job, piece, ...SIZE, yaw_deg: 0, pitch_deg: 3, transparent: true, depth: 'preview' });
        this.#keep(at, { url: this.urls.make(body, answer.mime), beads });
      } catch {
        // a job that cannot be read, or has nothing to show, stays with what is known of it
      }
    }
    this.#working = false;
  }

  #keep(at: string, look: Look): void {
    const known = new Map(this.#known);
    known.delete(at);
    known.set(at, look);
    for (const [old, gone] of known) {
      if (known.size <= KEPT) break;
      known.delete(old);
      if (gone.url !== null) this.urls.free(gone.url);
    }
    this.#known = known;
  }
}

// a tick changes no picture
const key = (row: JobRow) => `${row.id} ${row.changed_ms}`;

/** The piece that stands for the job, with what it hangs on: the first that is no bare frame. All of them side by side would be
 *  too small to know. */
function foremost(job: Job): string | null {
  const pieces = live(job.pieces);
  return (pieces.find((p) => p.kind !== 'frame') ?? pieces[0])?.id ?? null;
}

/** The first colours of a job's pieces, in the order of its colours. */
function palette(job: Job): string[] {
  const used = new Set(live(job.pieces).flatMap((p) => [p.garland, p.chain, p.classic, p.wall, p.bouquet, p.floaters, p.centrepiece, p.loose].flatMap((kind) => live(kind.palette).map((s) => s.colour))));
  return live(job.colours)
    .filter((c) => used.has(c.id))
    .slice(0, BEADS)
    .map((c) => c.srgb);
}

let kept: Stills | undefined;

/** The pictures of this page: they outlive the list, so that coming back to it casts nothing again. */
export const stills = (desk: StillDesk): Stills => (kept ??= new Stills(desk));
