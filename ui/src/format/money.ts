import { NBSP } from './spaces';

/** Decimals by ISO 4217, as `job::currency` has them; every other currency has two. `Intl` knows those of daily use, which are others. */
const DECIMALS: [decimals: number, codes: string][] = [
  [0, 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF'],
  [3, 'BHD IQD JOD KWD LYD OMR TND'],
  [4, 'CLF UYW'],
];

/** More than any decoration costs, in the smallest unit of any currency: what is larger is a slip of the hand. */
export const MOST_MONEY = 100_000_000_000;

/** Decimals of a currency. */
export const decimals = (currency: string): number => DECIMALS.find(([, codes]) => currency.length === 3 && codes.split(' ').includes(currency))?.[0] ?? 2;

/** Money from whole cents, or whatever the smallest unit of the currency is: "€ 1,180", "€ 32.50", "¥ 1,180". Decimals are left out
 *  when there are none, unless `always`. */
export function money(cents: number, currency: string, always = false): string {
  if (!Number.isFinite(cents)) return '–';
  const places = decimals(currency);
  const digits = always || cents % 10 ** places !== 0 ? places : 0;
  const amount = new Intl.NumberFormat('en-GB', {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(Math.abs(cents) / 10 ** places);
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
