import { NBSP, THIN } from './spaces';

/** Figures under this are read at a glance without groups. */
const GROUP_FROM = 10_000;

/** A number for people: at most `decimals` places, none that say nothing, groups of three from 10,000 up. */
export function number(value: number, decimals = 0): string {
  if (!Number.isFinite(value)) return '–';
  const fixed = Math.abs(value).toFixed(decimals);
  const [whole = '0', part = ''] = fixed.split('.');
  const grouped = Number(fixed) >= GROUP_FROM ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
  const rest = part.replace(/0+$/, '');
  const sign = value < 0 && Number(fixed) !== 0 ? '−' : '';
  return sign + grouped + (rest ? `.${rest}` : '');
}

/** A number that always shows `decimals` places, for columns that are compared. */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return '–';
  const shown = Math.abs(value).toFixed(decimals);
  const [whole = '0', part = ''] = shown.split('.');
  const sign = value < 0 && Number(shown) !== 0 ? '−' : '';
  return sign + number(Number(whole)) + (part ? `.${part}` : '');
}

/** "62 %". */
export function percent(value: number, decimals = 0): string {
  return number(value, decimals) + NBSP + '%';
}

/** "6 to 10", or one figure when both are the same. */
export function span(from: string, to: string): string {
  return from === to ? from : `${from} to ${to}`;
}
