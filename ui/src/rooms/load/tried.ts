// One vehicle after the other tried for a job: what each would mean.
import type { Job, Plan, Vehicle } from '../../desk';

/** What comes of carrying the job in a vehicle. */
export interface Tried {
  /** its id in the book */
  id: string;
  vehicle: Vehicle;
  trips: number;
  /** of its fullest trip, percent */
  full_pct: number;
  /** codes of what neither goes in nor passes */
  stuck: string[];
  /** everything has a place */
  stowed: boolean;
}

/** Plans the job with each vehicle in its turn, and tells after each what is known so far. `plan` may refuse; then nothing more is tried. */
export async function tryAll(job: Job, own: readonly { id: string; vehicle: Vehicle }[], plan: (job: Job) => Promise<Plan>, told: (tried: Tried[]) => void): Promise<Tried[]> {
  const all: Tried[] = [];
  for (const { id, vehicle } of own) {
    const { load } = await plan({ ...job, vehicle });
    all.push({
      id,
      vehicle,
      trips: load.trips,
      full_pct: Math.max(0, ...load.runs.map((r) => r.volume_pct)),
      stuck: load.parcels.filter((p) => p.stuck_at !== '').map((p) => p.code),
      stowed: load.stowed,
    });
    told([...all]);
  }
  return all;
}
