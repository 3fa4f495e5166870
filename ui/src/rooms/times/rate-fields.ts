// Every rate and rule that has a number field: in which group it stands, in which unit, and how far it goes. The limits are those of
// the job's own checks.
import type { Rates, Rules } from '../../desk';
import { count, lengths, percentage, secondsOf, type Quantity } from '../../format/quantity';
import type { Units } from '../../format/units';

/** A number of the rates or of the rules. */
export type RateField =
  | { of: 'rates'; field: Exclude<keyof Rates, 'neck_pm' | 'soft_pm'>; quantity: Quantity; min: number; max: number }
  | { of: 'rules'; field: keyof Rules; quantity: Quantity; min: number; max: number };

/** The groups in the order of the work. */
export const GROUPS = ['studio', 'room', 'carrying', 'spares', 'fresh', 'carried'] as const;
export type Group = (typeof GROUPS)[number];

const DAY_S = 86_400;
type Seconds = Extract<keyof Rates, `${string}_s` | `${string}_s_m`>;
const seconds = (...fields: Exclude<Seconds, 'walk_mm_s'>[]): RateField[] => fields.map((field) => ({ of: 'rates', field, quantity: secondsOf(), min: 0, max: DAY_S }));
const rate = (field: Exclude<keyof Rates, 'neck_pm' | 'soft_pm'>, quantity: Quantity, min: number, max: number): RateField => ({ of: 'rates', field, quantity, min, max });
const rule = (field: keyof Rules, quantity: Quantity, min: number, max: number): RateField => ({ of: 'rules', field, quantity, min, max });
const hours = (...fields: Extract<keyof Rules, `${string}_h`>[]): RateField[] => fields.map((field) => rule(field, count('h', 'h'), 0, 1000));

/** All fields, by group. */
export const fieldsOf = (units: Units): Record<Group, RateField[]> => ({
  studio: [
    ...seconds('pair_s', 'small_pair_s', 'double_s', 'join_s', 'string_s', 'link_pair_s', 'link_tie_s', 'round24_s', 'round36_s'),
    ...seconds('accent_s', 'foil_s', 'helium_s', 'ring_link_s', 'ring_slot_s', 'check_s', 'bag_s'),
    rate('flow_l_min', count('L/min', 'L/min', 10), 1, 100_000),
    rate('stroke_ml', count('mL', 'mL', 10), 1, 10_000),
    rule('rest_pct', percentage(5), 0, 200),
    rule('learn_pct', percentage(1), 50, 100),
  ],
  room: [
    ...seconds('hang_s_m'),
    rate('alone_pct', percentage(5), 50, 1000),
    ...seconds('drape_s', 'extra_s', 'filler_s', 'place_s', 'stack_s', 'grid_s', 'stand_s', 'frame_s', 'finish_s', 'strike_s_m', 'strike_s'),
  ],
  carrying: [...seconds('carry_s'), rate('walk_mm_s', count('mm/s', 'mm/s', 50), 50, 5000), rate('stair_ms', count('ms', 'ms', 50), 0, 60_000), ...seconds('lift_s')],
  spares: [
    rule('spare_small_pct', percentage(1), 0, 500),
    rule('spare_small_min', count(), 0, 1000),
    rule('spare_big_pct', percentage(1), 0, 500),
    rule('spare_big_min', count(), 0, 1000),
    rule('helium_loss_pct', percentage(1), 0, 500),
  ],
  fresh: hours('fresh_care_h', 'fresh_stop_h', 'fresh_outdoors_h', 'open_air_h', 'open_sun_h', 'helium_h', 'helium_treated_h', 'helium_foil_h'),
  carried: [rule('length_mm', lengths(units), 100, 20_000), rule('fill_pct', percentage(1), 1, 100), rule('squeeze_pct', percentage(1), 0, 90)],
});
