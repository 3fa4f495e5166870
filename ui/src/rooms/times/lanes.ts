// Which bar stands in which row: by person, by thing, by phase.
import type { Job, Phase, Plan, Task } from '../../desk';
import { live } from '../../state/lists';
import { t } from '../../texts/t';

/** A task with its times. */
export interface Bar {
  task: Task;
  start: number;
  end: number;
}

/** A row of bars that do not overlap. */
export interface Lane {
  id: string;
  name: string;
  /** under the name */
  note: string;
  bars: Bar[];
}

export type View = 'people' | 'things' | 'phases';

/** Where a task is done. */
export type Place = 'studio' | 'road' | 'venue';

export const placeOf = (task: Task): Place =>
  task.phase === 'return' || /^(drive|back)\b/.test(task.id) ? 'road' : ['install', 'hand_over', 'strike'].includes(task.phase) ? 'venue' : 'studio';

/** What comes after the hand-over has its own times: no hand moves it here. */
export const comesAfter = (task: Task): boolean => task.phase === 'strike' || task.phase === 'return';

const PHASES: Phase[] = ['order', 'prepare', 'pack', 'load', 'install', 'hand_over', 'strike', 'return'];

/** Tasks that have a time, in order of start. */
export function bars(plan: Plan): Bar[] {
  return plan.tasks.flatMap((task) => (task.start_ms === null || task.end_ms === null ? [] : [{ task, start: task.start_ms, end: task.end_ms }]));
}

/** The rows of some bars; rows without bars are left out. */
export function lanes(view: View, job: Job, all: Bar[]): Lane[] {
  const rows = view === 'people' ? people(job, all) : view === 'things' ? things(job, all) : phases(all);
  return rows.filter((row) => row.bars.length > 0);
}

function people(job: Job, all: Bar[]): Lane[] {
  const rows = live(job.crew).map((c) => ({
    id: c.id,
    name: c.name || t('times.unnamed'),
    note: '',
    bars: all.filter((b) => b.task.who.includes(c.id)),
  }));
  return [...rows, { id: '-', name: t('times.nobody_row'), note: '', bars: all.filter((b) => b.task.who.length === 0) }];
}

function things(job: Job, all: Bar[]): Lane[] {
  const kit = live(job.kit);
  const count = (kind: 'inflator' | 'ladder') => kit.filter((k) => k.kind === kind).reduce((sum, k) => sum + Math.max(0, k.count), 0);
  const inflators = dealt(all, (b) => b.task.inflators, count('inflator'));
  const ladders = dealt(all, (b) => b.task.ladders, count('ladder'));
  return [
    ...inflators.map((list, i) => ({ id: `inflator-${i}`, name: inflators.length > 1 ? t('times.inflator_n', { n: i + 1 }) : t('times.inflator'), note: '', bars: list })),
    ...ladders.map((list, i) => ({ id: `ladder-${i}`, name: ladders.length > 1 ? t('times.ladder_n', { n: i + 1 }) : t('times.ladder'), note: '', bars: list })),
    { id: 'van', name: job.vehicle.name || t('times.van'), note: '', bars: all.filter((b) => b.task.phase === 'load') },
  ];
}

/** Things of one kind, each passed on to the next who needs one; more rows than there are if they are wanted at once. */
function dealt(all: Bar[], wants: (b: Bar) => number, have: number): Bar[][] {
  const rows: Bar[][] = Array.from({ length: have }, () => []);
  for (const bar of all) {
    for (let n = 0; n < wants(bar); n++) {
      let row = rows.find((r) => !r.includes(bar) && (r[r.length - 1]?.end ?? -Infinity) <= bar.start);
      if (!row) rows.push((row = []));
      row.push(bar);
    }
  }
  return rows;
}

function phases(all: Bar[]): Lane[] {
  return PHASES.flatMap((phase) => {
    const rows = dealt(all.filter((b) => b.task.phase === phase), () => 1, 0);
    return rows.map((list, i) => ({ id: `${phase}-${i}`, name: rows.length > 1 ? t('times.phase_n', { phase: t(`site.phase_${phase}`), n: i + 1 }) : t(`site.phase_${phase}`), note: '', bars: list }));
  });
}

/** The bar that an arrow leads to: along the row, or the one nearest in time in the next row that has one. */
export function neighbour(rows: Lane[], row: number, index: number, way: 'back' | 'on' | 'up' | 'down'): { row: number; index: number } | null {
  const bar = rows[row]?.bars[index];
  if (!bar) return null;
  if (way === 'back' || way === 'on') {
    const next = index + (way === 'on' ? 1 : -1);
    return rows[row]?.bars[next] ? { row, index: next } : null;
  }
  const to = row + (way === 'down' ? 1 : -1);
  const list = rows[to]?.bars;
  if (!list || list.length === 0) return null;
  const far = (b: Bar) => Math.max(0, b.start - bar.end, bar.start - b.end) * 1e6 + Math.abs(b.start - bar.start);
  let best = 0;
  list.forEach((b, i) => {
    if (far(b) < far(list[best] as Bar)) best = i;
  });
  return { row: to, index: best };
}
