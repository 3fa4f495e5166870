// The one way to words on the screen: a key, and what goes into its gaps.
import { number } from '../format/number';
import { en } from './en';

type Texts = typeof en;
/** The key of a text. */
export type TextKey = keyof Texts;

/** A text with a number in it, `{n}`, that changes the words: English has one and other. */
interface Plural {
  readonly one: string;
  readonly other: string;
}

type Gaps<S> = S extends `${string}{${infer Name}}${infer Rest}` ? Name | Gaps<Rest> : never;
type GapsOf<T> = T extends string ? Gaps<T> : T extends Plural ? Gaps<T['one']> | Gaps<T['other']> | 'n' : never;
type Values<K extends TextKey> = { [G in GapsOf<Texts[K]>]: G extends 'n' ? number : string | number };
type Args<K extends TextKey> = [GapsOf<Texts[K]>] extends [never] ? [] : [values: Values<K>];

const rules = new Intl.PluralRules('en-GB');

/** The text of a key. Gaps are `{name}`; a plural is chosen by `n`. A misspelt key, a missing or unknown value
 *  is a type error. Numbers are written as `number` writes them. */
export function t<K extends TextKey>(key: K, ...args: Args<K>): string {
  const values: Record<string, string | number> = args[0] ?? {};
  const entry: string | Plural = en[key];
  const n = values['n'];
  const text = typeof entry === 'string' ? entry : entry[rules.select(Number(n)) === 'one' ? 'one' : 'other'];
  return text.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name];
    return typeof value === 'number' ? number(value, 2) : (value ?? '');
  });
}
