// The way from the vehicle to the room, one portal after the other: what it is, who does not pass, and how much room the rest leaves.
import type { Job, Load, Parcel } from '../../desk';
import { live } from '../../state/lists';
import { t } from '../../texts/t';

export type Kind = 'door' | 'corner' | 'lift' | 'stair';

/** Something on the way. */
export interface Portal {
  /** the id of the door in the job; empty for a vehicle */
  id: string;
  name: string;
  kind: Kind;
  /** clear width and height, mm; 0 is not known */
  width_mm: number;
  height_mm: number;
  /** who does not pass here */
  stuck: Parcel[];
  /** the parcel that leaves least room, and how much, mm; only where that is a matter of two sides */
  tightest: { parcel: Parcel; spare_mm: number } | null;
}

/** The vehicle's door, then every door, corner, lift and stair in the order of the way. */
export function portals(job: Job, load: Load): Portal[] {
  const vehicle = {
    id: '',
    name: t('load.vehicle_door', { name: job.vehicle.name }),
    kind: 'door' as const,
    width_mm: job.vehicle.door_width_mm,
    height_mm: job.vehicle.door_height_mm,
  };
  const doors = live(job.doors).map((d) => ({ id: d.id, name: d.name || t(`load.kind_${kind(d.kind)}`), kind: kind(d.kind), width_mm: d.width_mm, height_mm: d.height_mm }));
  return [vehicle, ...doors].map((portal) => {
    const stuck = load.parcels.filter((p) => p.stuck !== null && p.stuck.door === portal.id && (portal.id !== '' || p.stuck.kind === null));
    return { ...portal, stuck, tightest: portal.kind === 'door' ? tightest(portal, load.parcels) : null };
  });
}

function kind(word: string): Kind {
  return word === 'corner' || word === 'lift' || word === 'stair' ? word : 'door';
}

/** Of the parcels that pass an opening straight, the one that leaves least. */
function tightest(opening: { width_mm: number; height_mm: number }, parcels: readonly Parcel[]): Portal['tightest'] {
  const [narrow = 0, tall = 0] = [opening.width_mm, opening.height_mm].sort((a, b) => a - b);
  if (narrow <= 0) return null;
  let best: Portal['tightest'] = null;
  for (const parcel of parcels) {
    const [thin = 0, middle = 0] = [parcel.length_mm, parcel.width_mm, parcel.height_mm].sort((a, b) => a - b);
    const spare_mm = Math.min(narrow - thin, tall - middle);
    if (spare_mm >= 0 && (!best || spare_mm < best.spare_mm)) best = { parcel, spare_mm };
  }
  return best;
}
