/** Bags and cases ticked into the van and out of it. */
export const bags = {
  'bags.way': 'Into the van or out of it',
  'bags.in': 'Into the van',
  'bags.out': 'Out of the van',
  'bags.done_of': '{done} of {all}',
  'bags.code': 'Code on the label, such as B2',
  'bags.tick': 'Tick it',
  'bags.unknown': 'There is no bag {code}.',
  'bags.already': '{code} was ticked before.',
  'bags.ticked': '{code} {name}: ticked.',
  'bags.what_in': '{code} into the van',
  'bags.what_out': '{code} out of the van',
  'bags.all_in': 'Everything is in the van.',
  'bags.all_out': 'Everything is out of the van.',
} as const;
