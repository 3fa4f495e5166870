// The kinds of work in which a person has a pace of their own, in the order of the work.
import type { Crew } from '../../desk';

export const PACES = ['blow_pct', 'string_pct', 'room_pct', 'carry_pct'] as const satisfies (keyof Crew)[];
