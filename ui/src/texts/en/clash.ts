/** Double bookings between jobs. */
export const clash = {
  'clash.both': '{what}: wanted by {one} and {other} at once, {when}.',
  'clash.alike': '{what}: wanted by two jobs called {one} at once, {when}.',
  'clash.more': '{n} more',
  'clash.if_free': 'If nobody were wanted elsewhere:',
  'clash.here': '{what}: also wanted by {other}, {when}.',
  'clash.do': 'Move one of the jobs, or find somebody or something else for one.',
  'clash.rest_daily': '{who}: {pause} between {one} and {other}, so less than 11 h of rest in a row within 24 h.',
  'clash.rest_daily_each': '{who} between {one} and {other}, so less than 11 h of rest in a row within 24 h.',
  'clash.rest_of': '{name} {pause}',
  'clash.rest_break': '{who}: more than 6 h without a break, over {one} and {other}.',
  'clash.rest_weekly': '{who}: no day of rest in seven, over {one} and {other}.',
  'clash.rest_do': 'Plan a later start, a break or somebody else, and check the rules where you work.',
  'clash.papers': 'The papers speak as if nobody were wanted elsewhere.',
  'clash.see': 'See {job}',
} as const;
