/** The decorator's own rates. */
export const own = {
  'own.title': 'Your own rates',
  'own.ask': 'Steps that were timed in Site show how quick your hands are.',
  'own.look': 'Look at earlier jobs',
  'own.working': 'Looking at earlier jobs',
  'own.none': 'Not enough yet: it takes timed steps from 3 jobs.',
  'own.half': 'Mostly {low} to {high},',
  'own.from': { one: 'from 1 job', other: 'from {n} jobs' },
  'own.now': 'this job has {value}',
  'own.use': 'Use it',
  'own.in_use': 'in use',
  'own.taken': '{rate}: {value}',
} as const;
