/** The day goes wrong: the van late, somebody ill. */
export const mishap = {
  'mishap.title': 'Van late, somebody ill?',
  'mishap.note': 'Say it here: the day is forecast anew, without a network too.',
  'mishap.van': 'Unloading can begin at',
  'mishap.van_said': 'Unloading not before {time}',
  'mishap.door': 'The venue opens at',
  'mishap.door_said': 'Load-in at {time}',
  'mishap.who': 'Who cannot come?',
  'mishap.ill': '{name} cannot come',
  'mishap.ill_said': '{name} does not come',
  'mishap.back': '{name} can come after all',
  'mishap.back_said': '{name} comes after all',
  'mishap.alone': 'Nobody else is left.',
  'mishap.away': 'Not on this job now',
  'mishap.without': 'No finish can be said: nobody is left for {task}.',
  'mishap.without_more': 'No finish can be said: nobody is left for {task}, and {n} more.',
} as const;
