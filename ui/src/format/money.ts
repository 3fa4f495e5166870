import { NBSP } from './spaces';

const DIGITS = { whole: 0, cents: 2 } as const;

/** Money from integer cents: "€ 1,180", "€ 32.50". Cents are left out when there are none, unless `always`. */
export function money(cents: number, currency: string, always = false): string {
  if (!Number.isFinite(cents)) return '–';
  const digits = always || cents % 100 !== 0 ? DIGITS.cents : DIGITS.whole;
  const amount = new Intl.NumberFormat('en-GB', {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(Math.abs(cents) / 100);
  return (cents < 0 ? '−' : '') + symbol(currency) + NBSP + amount;
}

/** The sign of a currency, or its three letters; anything else is shown as it was written. */
export function symbol(currency: string): string {
  if (!/^[A-Za-z]{3}$/.test(currency)) return currency;
  const parts = new Intl.NumberFormat('en-GB', {
    style: 'currency',
    currency,
    currencyDisplay: 'narrowSymbol',
  }).formatToParts(0);
  return parts.find((p) => p.type === 'currency')?.value ?? currency;
}
