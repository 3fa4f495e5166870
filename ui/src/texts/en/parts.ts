/** What the shared parts say by themselves. */
export const parts = {
  'number.less': '{label}, less',
  'number.more': '{label}, more',
  'number.unreadable': '“{text}” cannot be read as a number.',
  'number.range': 'From {from} to {to}.',
  'number.from': '{from} or more.',
  'number.to': 'At most {to}.',

  'date.day': '{label}, day',
  'date.time': '{label}, time',
  'date.no_day': 'no day yet',
  'date.no_time': 'no time',

  'toggle.yes': 'yes',
  'toggle.no': 'no',

  'pattern.plain': 'plain',
  'pattern.hatched': 'hatched',
  'pattern.dotted': 'dotted',
  'pattern.barred': 'barred',
  'pattern.crossed': 'cross-hatched',
  'pattern.waved': 'waved',
  'pattern.ringed': 'ringed',
  'pattern.checked': 'checked',
  'pattern.newer': 'plain',

  'mix.border': 'Border between {left} and {right}',
  'mix.value': '{left} {left_share} %, {right} {right_share} %',
  'mix.share': 'Share of {name}',

  'severity.stop': 'Must be solved',
  'severity.care': 'Look at this',
  'severity.note': 'Note',
  'finding.go': 'See {room}',
  'finding.enter_costs': 'Enter costs',
  'findings.missing': '{n} kinds are not on the list of this job’s balloons.',
  'findings.missing_do': 'Add them, so that bags and stock are known.',
  'findings.add_all': 'Add all',
  'findings.added': '{n} kinds put on the list',
  'findings.each': 'One by one',
  'findings.title': { one: '{n} finding', other: '{n} findings' },
  'findings.none': 'Nothing to solve',
  'findings.none_do': 'Findings come here as soon as something does not add up.',

  'why.title': 'Why {figure}',
  'why.total': 'Together',

  'sheet.close': 'Close',

  'work.stop': 'Stop',
  'work.part': '{percent} %',

  'fault.retry': 'Try again',
  'fault.details': 'Details',
  'fault.unknown': 'Something failed that should not.',
  'fault.unknown_do': 'What was saved is safe. Try again.',

  'step.tick': 'Tick {title}',
  'step.done': 'Done: {title}',
  'step.now': 'In hand: {title}',

  'beads.of': '{done} of {all} done',
  'cluster.of': '{rounds} about a knot',
  'cluster.round': '{name} {size}',

  'rows.more': 'More for {name}',
  'rows.up': 'Move up',
  'rows.copy': 'Make another like it',
  'rows.down': 'Move down',
  'rows.remove': 'Remove',
  'rows.drag': 'Drag {name} to another place',
} as const;
