import type { IconName } from '../icons/icons';
import type { PlaceId, RoomId } from '../state/router.svelte';

/** The icon of each room. */
export const ROOM_ICONS: Record<RoomId, IconName> = {
  brief: 'clipboard-list',
  design: 'pencil-ruler',
  make: 'spool',
  times: 'clock',
  load: 'truck',
  site: 'list-checks',
  papers: 'file-text',
};

/** The icon of each place beside the jobs. */
export const PLACE_ICONS: Record<PlaceId, IconName> = {
  jobs: 'calendar-days',
  stockroom: 'package',
  people: 'users',
  settings: 'sliders-horizontal',
};
