/** Double bookings between jobs. */
export const clash = {
  'clash.both': '{what}: wanted by {one} and {other} at once, {when}.',
  'clash.here': '{what}: also wanted by {other}, {when}.',
  'clash.do': 'Move one of the jobs, or find somebody or something else for one.',
  'clash.see': 'See {job}',
} as const;
