// What the list of jobs says of each job ahead beyond its row: the work in hand, and what needs attention. It comes from the
// job's plan, which is reckoned once for each state of the job, one job at a time.
import type { call as deskCall, compute as deskCompute, Finding, JobRow, Plan, Step } from '../../desk';
import { ROOMS, type RoomId } from '../../state/router.svelte';
import { settledRooms } from '../../state/settled';
import { live } from '../../state/lists';
import { stepState } from '../../state/ticks';

/** What the list shows of one job. */
export interface Digest {
  /** names of the pieces, in order */
  pieces: string[];
  /** the first step that is open; null when all are done or there are none */
  next: Step | null;
  steps: number;
  balloons: number;
  startMs: number | null;
  findings: Finding[];
  settled: ReadonlySet<RoomId>;
  /** the first room with an open question; null when all are settled */
  room: RoomId | null;
}

/** Not more jobs than this are looked into: the list itself shows all. */
const MOST = 40;

interface DigestDesk {
  call: typeof deskCall;
  compute: typeof deskCompute;
}

/** Digests of jobs, kept until the job changes. */
export class Digests {
  #known = $state.raw<ReadonlyMap<string, Digest>>(new Map());
  #turn = 0;

  constructor(private desk: DigestDesk) {}

  /** The digest of a job as the row describes it; null before it is reckoned, or where it cannot be. */
  of(row: JobRow): Digest | null {
    return this.#known.get(key(row)) ?? null;
  }

  /** Looks into the jobs that are not known yet, in their order. A later call takes the place of an earlier one. */
  async look(rows: readonly JobRow[]): Promise<void> {
    const turn = ++this.#turn;
    for (const row of rows.slice(0, MOST)) {
      if (turn !== this.#turn) return;
      if (this.#known.has(key(row))) continue;
      try {
        const view = await this.desk.call('open_job', { id: row.id });
        if (turn !== this.#turn) return;
        const plan = await this.desk.compute('plan', { job: view.job, private: view.private });
        this.#known = new Map(this.#known).set(key(row), digest(view, plan));
      } catch {
        // a job that cannot be read or planned says why in its own room; its row shows without a digest
      }
    }
  }

  /** The list is left: what is being reckoned is finished, nothing more is begun. */
  rest(): void {
    this.#turn++;
  }
}

const key = (row: JobRow) => `${row.id} ${row.changed_ms} ${row.ticked}`;

let kept: Digests | undefined;

/** The digests of this page: they outlive the list, so that coming back to it reckons nothing again. */
export const digests = (desk: DigestDesk): Digests => (kept ??= new Digests(desk));

/** What the list shows of a job and its plan. */
export function digest(view: { job: Parameters<typeof stepState>[0]; findings: Finding[] }, plan: Plan): Digest {
  const settled = settledRooms(view.job, plan);
  return {
    pieces: live(view.job.pieces).map((p) => p.name),
    next: plan.steps.find((s) => ['open', 'part'].includes(stepState(view.job, s).state)) ?? null,
    steps: plan.steps.length,
    balloons: plan.figures.balloons,
    startMs: plan.figures.start_by_ms,
    findings: [...view.findings, ...plan.findings],
    settled,
    room: ROOMS.find((r) => !settled.has(r)) ?? null,
  };
}
