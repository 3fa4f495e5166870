// Every number of rates and rules has a field, so that none is out of reach: the list is held against the types by the compiler, and
// against itself here.
import { expect, test } from 'vitest';
import type { Rates, Rules } from '../../desk';
import { t } from '../../texts/t';
import { fieldsOf, GROUPS } from './rate-fields';

// a name that is missing or too many does not compile
const RATES: Record<keyof Rates, true> = {
  pair_s: true, flow_l_min: true, round24_s: true, round36_s: true, small_pair_s: true, double_s: true, join_s: true, string_s: true,
  link_pair_s: true, link_tie_s: true, stroke_ml: true, hang_s_m: true, alone_pct: true, drape_s: true, extra_s: true, frame_s: true,
  stand_s: true, check_s: true, bag_s: true, carry_s: true, walk_mm_s: true, stair_ms: true, lift_s: true, finish_s: true, strike_s_m: true,
  strike_s: true, neck_pm: true, soft_pm: true, foil_s: true, ring_link_s: true, ring_slot_s: true, helium_s: true, accent_s: true,
  place_s: true, filler_s: true, stack_s: true, grid_s: true,
};
const RULES: Record<keyof Rules, true> = {
  spare_small_pct: true, spare_small_min: true, spare_big_pct: true, spare_big_min: true, fresh_care_h: true, fresh_stop_h: true,
  fresh_outdoors_h: true, helium_loss_pct: true, helium_h: true, helium_treated_h: true, helium_foil_h: true, open_air_h: true,
  open_sun_h: true, length_mm: true, fill_pct: true, squeeze_pct: true, rest_pct: true, learn_pct: true,
};

test('every rate and rule has one field, hands apart, which have sliders', () => {
  const all = GROUPS.flatMap((g) => fieldsOf('metric')[g]);
  const of = (kind: string) => all.filter((f) => f.of === kind).map((f) => f.field).sort();
  const hands = ['neck_pm', 'soft_pm'];
  expect(of('rates')).toEqual(Object.keys(RATES).filter((f) => !hands.includes(f)).sort());
  expect(of('rules')).toEqual(Object.keys(RULES).sort());
  for (const field of all) expect(t(`rates.${field.field}`)).not.toContain('rates.');
});
