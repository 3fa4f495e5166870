import { describe, expect, test, vi } from 'vitest';
import type { Fault, Job, JobView, Plan, Tick } from '../desk';
import { asFault, OpenJob, type JobDesk } from './job.svelte';
import { readingOf, tapeFigures } from './reading';
import { settledRooms } from './settled';
import { stepState, strayTicks, tickOf } from './ticks';
import { UndoStripState } from './undo.svelte';
import { Workspace } from './workspace.svelte';

/** A desk whose answers the test gives, one by one. */
function desk() {
  const asked: { name: string; args: unknown; signal?: AbortSignal; answer: (v: unknown) => void; refuse: (f: unknown) => void }[] = [];
  const ask = (name: string, args: unknown, signal?: AbortSignal) =>
    new Promise((answer, refuse) => {
      asked.push({ name, args, signal, answer, refuse });
      signal?.addEventListener('abort', () => refuse({ code: 'stopped', message: 'Stopped.', hint: '' }));
    });
  const next = (name: string) => {
    const at = asked.findIndex((a) => a.name === name);
    if (at < 0) throw new Error(`nobody asked for ${name}: ${asked.map((a) => a.name).join(', ') || 'nothing'}`);
    return asked.splice(at, 1)[0] as (typeof asked)[number];
  };
  return { asked, next, door: { call: ask, compute: ask } as unknown as JobDesk };
}

const job = (some: Partial<Job> = {}) =>
  ({ name: 'Wedding', stage: 'enquiry', ticks: {}, times: { ready_by: '2027-06-12T12:30', load_in: '', doors_open: '' }, venue: { zone: 'Europe/London' }, ...some }) as unknown as Job;
const view = (revision: number, some: Partial<JobView> = {}): JobView => ({ id: 'j1', revision, job: job(), private: null, signatures: {}, findings: [], apart: [], undo: null, redo: null, ...some });
const plan = (some: Partial<Plan> = {}) =>
  ({
    figures: { balloons: 300, garland_mm: 5400, start_by_ms: Date.UTC(2027, 5, 11, 17), leave_by_ms: Date.UTC(2027, 5, 12, 8, 30), volume_ml: 3_200_000, price_cents: 118000, currency: 'EUR' },
    findings: [],
    pieces: [{}],
    steps: [],
    why: { balloons: {} },
    ...some,
  }) as unknown as Plan;
const tick = (some: Partial<Tick>): Tick => ({ step: 's1', device: 'd1', turn: 1, done: true, skipped: false, reason: '', quantity: 1, what: '', who: '', at_ms: 0, took_s: 0, ...some });
const settle = () => new Promise((r) => setTimeout(r));

describe('the open job', () => {
  const opened = () => {
    const d = desk();
    const strip = new UndoStripState();
    return { ...d, strip, open: new OpenJob(view(1), d.door, strip) };
  };

  test('an edit changes nothing before it is on disk, then says so and plans anew', async () => {
    const { open, next, strip } = opened();
    next('plan').answer(plan());
    await settle();
    const done = open.edit([], 'Path changed');
    expect(open.job.name).toBe('Wedding');
    expect(strip.said).toBeNull();
    next('edit_job').answer({ changed: [], view: view(2, { job: job({ name: 'Party' }), undo: 'Path changed' }) });
    expect(await done).toBe(true);
    expect([open.job.name, open.canUndo, strip.said?.text]).toEqual(['Party', 'Path changed', 'Path changed']);
    expect((next('plan').args as { job: Job }).job.name).toBe('Party');
    strip.clear();
  });
  test('the words of an edit go once a quiet one or a tick follows: their button would take that back instead', async () => {
    const { open, next, strip } = opened();
    const quiet = () => open.set(['name'], 'Party', 'Name');
    const tick = () => open.tick({ step: 's1', done: false, quantity: 1, what: 'Step' });
    for (const [make, answer] of [[quiet, 'edit_job'], [tick, 'tick']] as const) {
      strip.say('Path changed', { label: 'Undo', run: () => {} });
      const done = make();
      next(answer).answer({ view: view(2), key: 's1~d1', tick: null, undo: 'Step', revision: 2 });
      if (answer === 'tick') await settle().then(() => next('open_job').answer(view(2)));
      await done;
      expect(strip.said).toBeNull();
      // what offers nothing to take back stays, and so does what was said meanwhile
      strip.say('Saved');
      const again = make();
      next(answer).answer({ view: view(2), key: 's1~d1', tick: null, undo: 'Step', revision: 2 });
      if (answer === 'tick') await settle().then(() => next('open_job').answer(view(2)));
      await again;
      expect(strip.said?.text).toBe('Saved');
    }
    strip.clear();
  });
  test('a refused edit is told with its label, and the old state stands', async () => {
    const { open, next } = opened();
    const done = open.edit([], 'Path changed');
    next('edit_job').refuse({ code: 'full', message: 'The disk is full.', hint: 'Make room.' });
    expect(await done).toBe(false);
    expect(open.refused).toEqual({ code: 'full', message: 'The disk is full.', hint: 'Make room.', label: 'Path changed' });
    expect(open.job.name).toBe('Wedding');
  });
  test('an answer that was overtaken does not bring the old state back', async () => {
    const { open, next } = opened();
    const [a, b] = [open.edit([], 'A', true), open.edit([], 'B', true)];
    const [first, second] = [next('edit_job'), next('edit_job')];
    second.answer({ view: view(3, { job: job({ name: 'B' }) }) });
    await b;
    first.answer({ view: view(2, { job: job({ name: 'A' }) }) });
    await a;
    expect(open.job.name).toBe('B');
  });
  test('edits made while a plan is reckoned are planned once, after it', async () => {
    const { open, next, asked } = opened();
    const first = next('plan');
    for (const [i, name] of ['A', 'B', 'C'].entries()) {
      const done = open.edit([], name, true);
      next('edit_job').answer({ view: view(2 + i, { job: job({ name }) }) });
      await done;
    }
    expect(asked.filter((a) => a.name === 'plan').length).toBe(0);
    expect(open.planning).toBe(true);
    first.answer(plan());
    await settle();
    expect((next('plan').args as { job: Job }).job.name).toBe('C');
    expect(asked.length).toBe(0);
  });
  test('a plan that is out of date and slow is stopped', async () => {
    vi.useFakeTimers();
    const { open, next } = opened();
    const first = next('plan');
    const done = open.edit([], 'A', true);
    next('edit_job').answer({ view: view(2) });
    await done;
    await vi.advanceTimersByTimeAsync(1499);
    expect(first.signal?.aborted).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    expect(first.signal?.aborted).toBe(true);
    await vi.advanceTimersByTimeAsync(0);
    expect(open.planFault).toBeNull();
    next('plan').answer(plan());
    await vi.advanceTimersByTimeAsync(0);
    expect([open.plan !== null, open.planning]).toEqual([true, false]);
    expect(open.rough, 'nothing in it is packed').toBe(false);
    vi.useRealTimers();
  });
  test('after a pause the garlands are packed to the end, unless an edit comes or the job is closed', async () => {
    vi.useFakeTimers();
    const { open, next, asked } = opened();
    const garland = { pieces: [{ garland: {} }] } as unknown as Partial<Plan>;
    const quick = next('plan');
    expect((quick.args as { depth: string }).depth).toBe('preview');
    quick.answer(plan(garland));
    await vi.advanceTimersByTimeAsync(599);
    expect([asked.length, open.rough]).toEqual([0, true]);
    const done = open.edit([], 'A', true);
    next('edit_job').answer({ view: view(2) });
    await done;
    next('plan').answer(plan(garland));
    await vi.advanceTimersByTimeAsync(600);
    const last = next('plan');
    expect((last.args as { depth: string }).depth).toBe('final');
    expect([open.planning, open.rough]).toEqual([false, true]);
    const packed = plan(garland);
    last.answer(packed);
    await vi.advanceTimersByTimeAsync(5000);
    expect([open.plan === packed, asked.length, open.rough]).toEqual([true, 0, false]);
    const more = open.edit([], 'B', true);
    next('edit_job').answer({ view: view(3) });
    await more;
    expect(open.rough).toBe(true);
    next('plan').answer(plan(garland));
    await vi.advanceTimersByTimeAsync(1);
    open.close();
    await vi.advanceTimersByTimeAsync(5000);
    expect(asked.length).toBe(0);
    vi.useRealTimers();
  });
  test('a tick waits for no plan and asks for none', async () => {
    const { open, next, asked } = opened();
    next('plan');
    const done = open.tick({ step: 's1', done: true, quantity: 1, what: 'Hang length 1' });
    const asking = next('tick');
    expect(asking.args).toEqual({ id: 'j1', step: 's1', done: true, quantity: 1, what: 'Hang length 1', skipped: false, reason: '', who: '', took_s: 0 });
    asking.answer({ revision: 2, key: 's1~d1', tick: tick({}), undo: 'Hang length 1' });
    expect(await done).toBe(true);
    expect(tickOf(open.job, 's1')?.done).toBe(true);
    expect(open.canUndo).toBe('Hang length 1');
    expect(asked).toEqual([]);
  });
  test('a tick that overtook an edit reads the whole job', async () => {
    const { open, next } = opened();
    const edit = open.edit([], 'A', true);
    const ticked = open.tick({ step: 's1', done: true, quantity: 1, what: 'Hang' });
    const asking = next('edit_job');
    next('tick').answer({ revision: 3, key: 's1~d1', tick: tick({}), undo: 'Hang' });
    await settle();
    expect(tickOf(open.job, 's1')?.done).toBe(true);
    next('open_job').answer(view(3, { job: job({ name: 'A', ticks: { 's1~d1': tick({}) } }) }));
    await ticked;
    asking.answer({ view: view(2, { job: job({ name: 'A' }) }) });
    await edit;
    expect([open.job.name, tickOf(open.job, 's1')?.done]).toEqual(['A', true]);
  });
  test('undo says what was taken back, and that it had been changed since', async () => {
    const { open, next, strip } = opened();
    const done = open.undo();
    next('undo').answer({ label: 'Path changed', changed: [], changed_since: [['venue']], view: view(2) });
    await done;
    expect(strip.said?.text).toBe('Taken back: Path changed. It had been changed since; the newer value is gone too.');
    expect(strip.said?.way?.label).toBe('Redo');
    strip.clear();
  });
  test('anything thrown becomes a fault that can be shown', () => {
    expect(asFault({ code: 'a', message: 'b' })).toEqual({ code: 'a', message: 'b', hint: '' } satisfies Fault);
    for (const thrown of [new TypeError('x'), 'x', null, undefined, { code: 7 }]) expect(asFault(thrown).code).toBe('page');
  });
});

describe('the workspace', () => {
  test('the job asked for last is the one that opens', async () => {
    const { door, next } = desk();
    const space = new Workspace(door);
    const [a, b] = [space.show('a'), space.show('b')];
    const [first, second] = [next('open_job'), next('open_job')];
    second.answer(view(1, { id: 'b' }));
    await b;
    first.answer(view(1, { id: 'a' }));
    await a;
    expect(space.open?.id).toBe('b');
  });
  test('a job that cannot be opened is a fault, and may be asked for again', async () => {
    const { door, next } = desk();
    const space = new Workspace(door);
    const first = space.show('a');
    next('open_job').refuse({ code: 'no_job', message: 'There is no such job.', hint: '' });
    await first;
    expect([space.fault?.code, space.open]).toEqual(['no_job', null]);
    const again = space.show('a');
    next('open_job').answer(view(1, { id: 'a' }));
    await again;
    expect([space.fault, space.open?.id]).toEqual([null, 'a']);
  });
});

describe('ticks', () => {
  const of = (...ticks: Tick[]) => job({ ticks: Object.fromEntries(ticks.map((t) => [`${t.step}~${t.device}`, t])) });

  test('the highest turn holds, whichever device made it', () => {
    const j = of(tick({ turn: 2, done: false, quantity: 0 }), tick({ device: 'd2', turn: 1 }));
    expect(stepState(j, { id: 's1', quantity: 1 }).state).toBe('open');
    expect(stepState(of(tick({ turn: 2 }), tick({ device: 'd2', turn: 3, done: false, quantity: 0 })), { id: 's1', quantity: 1 }).state).toBe('open');
  });
  test('of equal turns done holds, the same on every device', () => {
    const [a, b] = [tick({ device: 'a', quantity: 1 }), tick({ device: 'b', quantity: 0, done: false })];
    expect(tickOf(of(a, b), 's1')).toEqual(a);
    expect(tickOf(of(b, a), 's1')).toEqual(a);
    const c = tick({ device: 'c', quantity: 1 });
    expect(tickOf(of(c, a), 's1')).toEqual(c);
  });
  test('12 of 15 after a change of plan', () => {
    expect(stepState(of(tick({ quantity: 12 })), { id: 's1', quantity: 15 })).toMatchObject({ state: 'part', quantity: 12 });
    expect(stepState(of(tick({ quantity: 15 })), { id: 's1', quantity: 12 }).state).toBe('done');
    expect(stepState(of(tick({ skipped: true, done: false })), { id: 's1', quantity: 1 }).state).toBe('left');
  });
  test('a ticked step that vanished stays, one that was taken back does not', () => {
    const j = of(tick({ step: 'old' }), tick({ step: 'gone', done: false }), tick({}));
    expect(strayTicks(j, [{ id: 's1' }]).map((t) => t.step)).toEqual(['old']);
  });
});

describe('the frame of a job', () => {
  test('rooms are settled when they have nothing to solve and their steps are ticked', () => {
    const j = job({ stage: 'quoted', ticks: { 'a~d': tick({ step: 'a', device: 'd' }) } });
    const p = plan({
      findings: [{ severity: 'care', room: 'design' }, { severity: 'note', room: 'brief' }] as unknown as Plan['findings'],
      steps: [{ id: 'a', phase: 'prepare', quantity: 1 }, { id: 'b', phase: 'install', quantity: 1 }] as unknown as Plan['steps'],
    });
    expect([...settledRooms(j, p)]).toEqual(['brief', 'make', 'times', 'papers']);
    expect([...settledRooms(j, null)]).toEqual([]);
    expect([...settledRooms(job(), plan({ pieces: [] }))]).toEqual([]);
  });
  test('the tape: a start on the day before says its day; no price in a crew copy', () => {
    const how = readingOf(job(), { prices: { currency: 'EUR' } } as never, { units: 'metric', clock: '24h' });
    const figures = tapeFigures(plan(), how);
    // 17:00 UTC is 18:00 in London in June
    expect(figures.map((f) => `${f.figure} ${f.unit} ${f.word}`.replace(/\s+/g, ' '))).toEqual([
      '300 balloons',
      '5.4 m garland',
      '18:00 start by, Fri',
      '09:30 leave by',
      '3.2 m³ volume',
      '€ 1,180 price',
    ]);
    expect(figures.map((f) => f.asks)).toEqual([true, false, false, false, false, false]);
    const crew = plan({ figures: { ...plan().figures, price_cents: null, currency: null, start_by_ms: null } });
    expect(tapeFigures(crew, how).map((f) => f.figure)).toEqual(['300', '5.4', '–', '09:30', '3.2']);
  });
});
