// Double bookings between jobs: people, things and vehicles that two of them want at once. Jobs that lie days apart are never compared.
import type { call as deskCall, Clash, compute as deskCompute, Job, JobRow, ShortRest } from '../../desk';

/** Jobs whose ready-bys lie further apart than this share nothing, ms. The studio's work may lie a day or two before each. */
const NEAR = 4 * 86_400_000;
/** Not more jobs than this are put side by side. */
const MOST = 24;

/** A clash with its jobs by id and name. */
export interface Booked extends Omit<Clash, 'one' | 'other'> {
  one: JobRow;
  other: JobRow;
}

/** Too little rest between two jobs, by id and name. */
export interface Rest extends Omit<ShortRest, 'one' | 'other'> {
  one: JobRow;
  other: JobRow;
}

interface Desk {
  call: typeof deskCall;
  compute: typeof deskCompute;
}

/** The jobs that have another one near: only they can clash. `with` keeps to the neighbours of one job. */
export function near(rows: readonly JobRow[], only?: string): JobRow[] {
  const dated = rows.filter((r) => r.ready_by_ms !== null && !r.gone && !['cancelled', 'postponed', 'closed'].includes(r.stage));
  const close = (a: JobRow, b: JobRow) => a.id !== b.id && Math.abs((a.ready_by_ms ?? 0) - (b.ready_by_ms ?? 0)) <= NEAR;
  const one = dated.find((r) => r.id === only);
  const wanted = only === undefined ? dated.filter((r) => dated.some((o) => close(r, o))) : one ? [one, ...dated.filter((r) => close(r, one))] : [];
  return (wanted.length < 2 ? [] : wanted).slice(0, MOST);
}

/** What was found; asked anew when a job has changed. */
export class Together {
  found = $state.raw<Booked[]>([]);
  rests = $state.raw<Rest[]>([]);
  #of = '';
  #turn = 0;

  constructor(private desk: Desk) {}

  /** Looks at these jobs; `fresh` is a job as it is on this page, newer than its row. */
  async look(rows: readonly JobRow[], only?: string, fresh?: { id: string; job: Job }): Promise<void> {
    const wanted = near(rows, only);
    const key = wanted.map((r) => `${r.id} ${r.changed_ms}`).join(' ');
    if (key === this.#of && !fresh) return;
    const turn = ++this.#turn;
    try {
      const jobs: Job[] = [];
      for (const row of wanted) {
        jobs.push(row.id === fresh?.id ? fresh.job : (await this.desk.call('open_job', { id: row.id })).job);
        if (turn !== this.#turn) return;
      }
      const said = wanted.length < 2 ? { clashes: [], rests: [] } : await this.desk.compute('clashes', { jobs });
      if (turn !== this.#turn) return;
      this.#of = key;
      const named = <T extends { one: number; other: number }>(list: readonly T[]) =>
        list.flatMap((c) => {
          const [one, other] = [wanted[c.one], wanted[c.other]];
          return one && other && (only === undefined || one.id === only || other.id === only) ? [{ ...c, one, other }] : [];
        });
      this.found = named(said.clashes);
      this.rests = named(said.rests);
    } catch {
      // a job that cannot be read or planned says why in its own room
    }
  }
}
