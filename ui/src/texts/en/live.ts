/** The day as it goes. */
export const live = {
  'live.on_time': 'On time: hand-over done by {time}',
  'live.late': '{by} late: hand-over done by {time}',
  'live.over': 'Handed over at {time}',
  'live.agreed': 'Agreed: {time}',
  'live.spare': '{by} to spare',
  'live.not_begun': 'Nothing is ticked yet',
  'live.next': 'Next',
  'live.now': 'now',
  'live.nothing': 'nothing more',
  'live.late_title': 'Late',
  'live.moves': 'makes the rest late',
  'live.has_room': 'others have room for it',
} as const;
