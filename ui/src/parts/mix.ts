// Shares of a whole, in percent or any other whole number: they stay whole, not negative, and their sum stays.

/** Moves the border between share `left` and the next one by `by`; neither goes under 0. */
export function moveBorder(shares: readonly number[], left: number, by: number): number[] {
  const a = shares[left] ?? 0;
  const b = shares[left + 1] ?? 0;
  const moved = Math.max(-a, Math.min(b, Math.round(by)));
  return shares.map((s, i) => (i === left ? a + moved : i === left + 1 ? b - moved : s));
}

/** Gives share `at` the value `to`; the others make room in proportion to what they have. */
export function setShare(shares: readonly number[], at: number, to: number): number[] {
  const sum = total(shares);
  const mine = shares.length === 1 ? sum : Math.max(0, Math.min(sum, Math.round(to)));
  const others = shares.map((s, i) => (i === at ? 0 : s));
  // where all others are nothing, they share alike
  const weights = total(others) > 0 ? others : shares.map((_, i) => (i === at ? 0 : 1));
  const spread = apportion(weights, sum - mine);
  return spread.map((s, i) => (i === at ? mine : s));
}

/** Shares in proportion to `weights` whose sum is exactly `sum`: largest remainders, the earlier first where equal. */
export function apportion(weights: readonly number[], sum: number): number[] {
  const all = total(weights);
  if (all <= 0) return weights.map(() => 0);
  const exact = weights.map((w) => (w * sum) / all);
  const whole = exact.map(Math.floor);
  const order = exact.map((e, i) => ({ i, rest: e - Math.floor(e) })).sort((a, b) => b.rest - a.rest || a.i - b.i);
  for (let k = 0, left = sum - total(whole); k < left; k++) {
    const at = order[k % order.length]?.i ?? 0;
    whole[at] = (whole[at] ?? 0) + 1;
  }
  return whole;
}

const total = (shares: readonly number[]) => shares.reduce((a, b) => a + b, 0);
