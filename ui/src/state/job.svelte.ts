// The job that is open: what it says, its plan, and every way to change it.
import { createContext } from 'svelte';
import type { compute as deskCompute, call as deskCall } from '../desk';
import type { Apart, Depth, Edit, Fault, Finding, Job, JobView, Live, Plan, Private, TickStep } from '../desk';
import { t } from '../texts/t';
import { worst } from '../parts/finding';
import { clashFindings } from '../rooms/jobs/clash-words';
import { Together } from '../rooms/jobs/together.svelte';
import { findingsNow } from './today';
import { settings } from './settings.svelte';
import { undoStrip, type UndoStripState } from './undo.svelte';

/** The part of the desk that an open job needs. */
export interface JobDesk {
  call: typeof deskCall;
  compute: typeof deskCompute;
}

/** A plan that is out of date and still being reckoned is stopped after this long, ms: stopping costs a new worker. */
const STALE_MS = 1500;
/** After a pause of this long in the edits the garlands are packed to the end, ms. */
const PAUSE_MS = 600;

/** A refusal, and what was asked for. */
export interface Refused extends Fault {
  /** the edit that was not kept, in words; empty for other work */
  label: string;
}

/** A tick as a room makes it; the rest is filled in. */
export type NewTick = Pick<TickStep, 'step' | 'done' | 'quantity' | 'what'> & Partial<Pick<TickStep, 'skipped' | 'reason' | 'who' | 'took_s'>>;

/** One open job. Nothing here is changed before the store has said that it is on disk. */
export class OpenJob {
  readonly id: string;
  #view = $state.raw<JobView>() as JobView;
  /** The newest plan; null before the first is reckoned. It may be of an earlier revision while `planning`. */
  plan = $state.raw<Plan | null>(null);
  /** How closely that plan is packed. */
  depth = $state<Depth>('preview');
  /** Double bookings with other jobs near this one. */
  readonly together: Together;
  /** The time on the clock of the device, at its last full minute: one clock for all rooms, kept by the frame of the job. */
  nowMs = $state(Date.now());
  /** The day as it goes; null on other days. The frame of the job asks for it. */
  day = $state.raw<Live | null>(null);
  /** A newer plan is being reckoned. */
  planning = $state(false);
  /** Why there is no newer plan. */
  planFault = $state.raw<Fault | null>(null);
  /** What was refused last; null after the next success. */
  refused = $state.raw<Refused | null>(null);

  #desk: JobDesk;
  #strip: UndoStripState;
  #running: { since: number; stop: AbortController; stale: ReturnType<typeof setTimeout> | null } | null = null;
  #outdated = false;
  #pause: ReturnType<typeof setTimeout> | null = null;
  #closed = false;

  constructor(view: JobView, desk: JobDesk, strip: UndoStripState = undoStrip) {
    this.id = view.id;
    this.#view = view;
    this.#desk = desk;
    this.together = new Together(desk);
    this.#strip = strip;
    this.#replan();
  }

  /** Opens a job; refused with a `Fault`. */
  static async open(id: string, desk: JobDesk): Promise<OpenJob> {
    return new OpenJob(await desk.call('open_job', { id }), desk);
  }

  /** The job as it is on disk. */
  get job(): Job {
    return this.#view.job;
  }
  /** Client and money; null in a crew copy. */
  get priv(): Private | null {
    return this.#view.private;
  }
  /** What two devices set differently and nobody has settled. */
  get apart(): Apart[] {
    return this.#view.apart;
  }
  /** Hand-overs signed on the screen: a device of the crew has those that it took. */
  get signatures(): JobView['signatures'] {
    return this.#view.signatures;
  }
  /** All findings: of the reading, of the plan as they came, of other jobs, and on its day of the day. */
  get findings(): Finding[] {
    return findingsNow([...clashFindings(this.together.found, [], this.id, settings.clock), ...this.#view.findings, ...(this.plan?.findings ?? []), ...clashFindings([], this.together.rests, this.id, settings.clock)], this.day, this.job.venue.zone, settings.clock);
  }
  /** The severity of the worst finding; null when there is none. */
  get worst() {
    return worst(this.findings);
  }
  /** What undo would take back, in words; null if nothing. */
  get canUndo(): string | null {
    return this.#view.undo;
  }
  /** What redo would do again, in words; null if nothing. */
  get canRedo(): string | null {
    return this.#view.redo;
  }

  /** Makes edits, all or none. `label` says what happened ("Path changed"): it stands in the strip, unless `quiet`, and
   *  in the history. Answers whether they are on disk; a refusal is shown by the frame. */
  async edit(edits: Edit[], label: string, quiet = false): Promise<boolean> {
    return this.#try(label, async () => {
      const before = this.#strip.said;
      const { view } = await this.#desk.call('edit_job', { id: this.id, label, edits });
      this.#take(view);
      if (!quiet) this.#strip.say(label, { label: t('frame.undo'), run: () => void this.undo() });
      else this.#strip.outdate(before);
    });
  }

  /** Makes a change by another command of the store, which answers the job as it now is. */
  async run(label: string, work: () => Promise<JobView>): Promise<boolean> {
    return this.#try(label, async () => {
      this.#take(await work());
      this.#strip.say(label, { label: t('frame.undo'), run: () => void this.undo() });
    });
  }

  /** Sets one field of the job: `set(['venue', 'name'], 'Old mill', 'Venue named')`. */
  set(path: string[], value: unknown, label: string): Promise<boolean> {
    return this.edit([{ op: 'set', part: 'job', path, value } as Edit], label, true);
  }

  /** Sets one field of the private part. */
  setPrivate(path: string[], value: unknown, label: string): Promise<boolean> {
    return this.edit([{ op: 'set', part: 'private', path, value } as Edit], label, true);
  }

  /** Takes back the last edit of this device. */
  undo(): Promise<boolean> {
    return this.#back('undo');
  }

  /** Makes the edit that was taken back once more. */
  redo(): Promise<boolean> {
    return this.#back('redo');
  }

  /** Ticks a step, takes the tick back, or leaves the step out. It never waits for a plan. */
  async tick(tick: NewTick): Promise<boolean> {
    return this.#try(tick.what, async () => {
      const before = this.#strip.said;
      const done = await this.#desk.call('tick', { skipped: false, reason: '', who: '', took_s: 0, ...tick, id: this.id });
      const job = { ...this.job, ticks: { ...this.job.ticks, [done.key]: done.tick } };
      // an answer of an edit made before may still be on its way: then only the whole job is the truth
      const next = done.revision === this.#view.revision + 1;
      this.#view = { ...this.#view, job, undo: done.undo, revision: next ? done.revision : this.#view.revision };
      if (!next) this.#take(await this.#desk.call('open_job', { id: this.id }));
      this.#strip.outdate(before);
    });
  }

  /** Reads the job again: after a job file came in, or the database came back to this tab. */
  async reload(): Promise<boolean> {
    return this.#try('', async () => this.#take(await this.#desk.call('open_job', { id: this.id })));
  }

  /** A view that another command answered (a colour taken, the client erased). */
  accept(view: JobView): void {
    if (view.id === this.id) this.#take(view);
  }

  /** The last refusal has been read. */
  forgive(): void {
    this.refused = null;
  }

  /** The job is closed: nothing is reckoned any more. */
  close(): void {
    this.#outdated = false;
    this.#closed = true;
    this.#running?.stop.abort();
    if (this.#pause) clearTimeout(this.#pause);
  }

  async #back(way: 'undo' | 'redo'): Promise<boolean> {
    return this.#try('', async () => {
      const done = await this.#desk.call(way, { id: this.id });
      this.#take(done.view);
      if (done.label === null) return;
      const said = way === 'undo' ? t('undo.taken_back', { what: done.label }) : t('undo.done_again', { what: done.label });
      const also = done.changed_since.length > 0 ? `. ${t('undo.changed_since')}` : '';
      this.#strip.say(
        said + also,
        way === 'undo' ? { label: t('frame.redo'), run: () => void this.redo() } : { label: t('frame.undo'), run: () => void this.undo() },
      );
    });
  }

  async #try(label: string, work: () => Promise<void>): Promise<boolean> {
    try {
      await work();
      this.refused = null;
      return true;
    } catch (fault) {
      this.refused = { ...asFault(fault), label };
      return false;
    }
  }

  /** Answers may overtake each other: an older revision never replaces a newer one. */
  #take(view: JobView): void {
    if (view.revision < this.#view.revision) return;
    this.#view = view;
    this.#replan();
  }

  /** The figures may still change: a newer plan is reckoned, or the garlands are not yet packed to the end. */
  get rough(): boolean {
    return this.plan !== null && this.plan.pieces.some((p) => p.garland) && (this.planning || this.depth !== 'final');
  }

  /** One plan at a time, the newest last: edits that come while one is reckoned are planned together after it. First as quickly as a
   * hand edits; after a pause with the garlands packed to the end. */
  #replan(depth: Depth = 'preview'): void {
    if (this.#pause) clearTimeout(this.#pause);
    this.#pause = null;
    if (this.#running) {
      this.#outdated = true;
      this.planning = true;
      const running = this.#running;
      running.stale ??= setTimeout(() => running.stop.abort(), Math.max(0, running.since + STALE_MS - Date.now()));
      return;
    }
    this.#outdated = false;
    const stop = new AbortController();
    const running = { since: Date.now(), stop, stale: null };
    this.#running = running;
    this.planning = depth === 'preview';
    void this.#desk
      .compute('plan', { job: this.job, private: this.priv, depth }, stop.signal)
      .then(
        (plan) => {
          this.depth = depth;
          this.plan = plan;
          this.planFault = null;
        },
        (fault) => {
          if (!stop.signal.aborted) this.planFault = asFault(fault);
        },
      )
      .finally(() => {
        if (this.#running?.stale) clearTimeout(this.#running.stale);
        this.#running = null;
        this.planning = false;
        if (this.#outdated) this.#replan();
        else if (depth === 'preview' && !this.#closed && this.plan?.pieces.some((p) => p.garland)) {
          this.#pause = setTimeout(() => this.#replan('final'), PAUSE_MS);
        }
      });
  }

  /** Looks for double bookings with the jobs near this one. */
  async lookAround(): Promise<void> {
    try {
      await this.together.look(await this.#desk.call('list_jobs'), this.id, { id: this.id, job: this.job });
    } catch {
      // a list that cannot be read says why in Jobs
    }
  }

  /** Reckons the plan once more after a fault. */
  planAgain(): void {
    this.planFault = null;
    this.#replan();
  }
}

/** Whatever was thrown, as a fault that can be shown. */
export function asFault(thrown: unknown): Fault {
  const some = thrown as Partial<Fault> | null;
  if (some && typeof some === 'object' && typeof some.code === 'string' && typeof some.message === 'string') {
    return { code: some.code, message: some.message, hint: typeof some.hint === 'string' ? some.hint : '' };
  }
  return { code: 'page', message: t('fault.unknown'), hint: thrown instanceof Error ? thrown.message : t('fault.unknown_do') };
}

/** The open job, for the rooms of a job: `const open = openJob()`. */
export const [openJob, setOpenJob] = createContext<OpenJob>();
