// Chances in words: whole days of a hundred, and never that something is certain.
import { t } from '../../texts/t';

/** "83 days in 100" from thousandths; beyond 99 and below 1 it says so. */
export function inHundred(pm: number): string {
  if (pm >= 995) return t('chance.most');
  if (pm < 5) return t('chance.least');
  return t('chance.in_100', { n: Math.round(pm / 10) });
}

/** Where moments lie between the ends of a band, percent from the left; the ends hold all of them with a little air. */
export function placed(moments: readonly number[]): number[] {
  const from = Math.min(...moments);
  const to = Math.max(...moments);
  const air = Math.max(60_000, (to - from) * 0.08);
  return moments.map((ms) => (100 * (ms - from + air)) / (to - from + 2 * air));
}
