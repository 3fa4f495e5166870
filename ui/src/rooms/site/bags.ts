// Bags and cases as they are ticked into the van and out of it, by the code on their labels.
import type { Job, Parcel, Plan, Step } from '../../desk';
import { stepState } from '../../state/ticks';

/** Into the van, or out of it. */
export type BagWay = 'in' | 'out';

/** Ticks of bags stand beside the steps, and begin with these. */
export const BESIDE: Record<BagWay, string> = { in: 'van.', out: 'out.' };
/** The step whose quantity the ticked bags are. */
const STEP: Record<BagWay, string> = { in: 'load', out: 'carry' };

/** A bag or case with the tick it has. */
export interface Bag {
  /** of its tick */
  id: string;
  parcel: Parcel;
  done: boolean;
}

/** The bags of one trip, in the order in which they go in or come out. Trip 0 is what has no place in a vehicle. */
export interface BagTrip {
  trip: number;
  vehicle: string;
  bags: Bag[];
}

/** All bags, trip by trip. A bag's tick is named after its packing step, which keeps its name when codes change. */
export function bagTrips(job: Job, plan: Plan, way: BagWay): BagTrip[] {
  const packing = new Map(plan.steps.filter((s) => s.phase === 'pack').map((s) => [s.code, s.id.replace(/^pack\./, '')]));
  const bags = plan.load.parcels.map((parcel): Bag => {
    const id = BESIDE[way] + (packing.get(parcel.code) ?? parcel.code);
    return { id, parcel, done: stepState(job, { id, quantity: 1 }).state === 'done' };
  });
  const turn = ({ parcel: { stow } }: Bag) => (way === 'in' ? stow?.turn : stow?.out) ?? 0;
  const trips = plan.load.runs.map((run): BagTrip => ({
    trip: run.trip,
    vehicle: run.vehicle,
    bags: bags.filter((b) => b.parcel.stow?.trip === run.trip).sort((a, b) => turn(a) - turn(b)),
  }));
  const rest = bags.filter((b) => !b.parcel.stow);
  return [...trips, ...(rest.length > 0 ? [{ trip: 0, vehicle: '', bags: rest }] : [])];
}

/** The step that counts these bags. */
export const stepOf = (plan: Plan, way: BagWay): Step | undefined => plan.steps.find((s) => s.id === STEP[way]);

/** The bag that a typed code means: big or small letters, with or without blanks. */
export function byCode(trips: readonly BagTrip[], typed: string): Bag | undefined {
  const code = typed.replace(/\s/g, '').toUpperCase();
  return code === '' ? undefined : trips.flatMap((one) => one.bags).find((b) => b.parcel.code.toUpperCase() === code);
}
