// The figures that a moment keeps, and what has changed since.
import type { Figures } from '../../desk';

/** Figures that are kept, by the plan's names. Money is not among them: a moment travels in crew copies too. */
export const KEPT = ['balloons', 'garland_mm', 'volume_ml', 'work_s'] as const satisfies (keyof Figures)[];
export type KeptName = (typeof KEPT)[number];

/** Units as the plan names them, from the figures' names. */
const UNITS: Record<KeptName, string> = { balloons: 'balloons', garland_mm: 'mm', volume_ml: 'ml', work_s: 's' };

/** A figure that is no longer what it was. */
export interface Change {
  name: KeptName;
  unit: string;
  then: number;
  now: number;
}

/** The kept figures that differ from those of now. One that was not kept then is left out. */
export function changes(then: { [key in string]?: number }, now: Pick<Figures, KeptName>): Change[] {
  return KEPT.flatMap((name) => {
    const before = then[name];
    return before === undefined || before === now[name] ? [] : [{ name, unit: UNITS[name], then: before, now: now[name] }];
  });
}
