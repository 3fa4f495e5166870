// Lists of the document as the page reads them: what is not gone, in order, each with its id; and edits of them.
import type { Edit, Part } from '../desk';

interface Listed {
  order: string;
  gone: boolean;
}

/** The items of a list that are not gone, by order key, then by id: the same order as everywhere else. */
export function live<T extends Listed>(list: { [id in string]?: T }): (T & { id: string })[] {
  return Object.entries(list)
    .flatMap(([id, item]) => (item && !item.gone ? [{ ...item, id }] : []))
    .sort((a, b) => compare(a.order, b.order) || compare(a.id, b.id));
}

/** The items of a list that were taken off and can come back. */
export function removed<T extends Listed>(list: { [id in string]?: T }): (T & { id: string })[] {
  return live(Object.fromEntries(Object.entries(list).flatMap(([id, item]) => (item?.gone ? [[id, { ...item, gone: false }]] : []))));
}

// by code units, as the backend sorts: `localeCompare` would not
const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** An id that nobody has used: 12 letters and digits. */
export function freshId(): string {
  const letters = 'abcdefghijklmnopqrstuvwxyz0123456789';
  return [...crypto.getRandomValues(new Uint8Array(12))].map((n) => letters[n % 36]).join('');
}

/** Puts an item at the end of a list; fields that are not given have their defaults. */
export const add = (path: string[], id: string, value: object, part: Part = 'job') => ({ op: 'add', part, path, id, before: null, value }) as Edit;
/** Takes an item off a list. */
export const remove = (path: string[], id: string, part: Part = 'job') => ({ op: 'remove', part, path, id }) as Edit;
/** Puts an item that was taken off back, where it stood. */
export const restore = (path: string[], id: string, part: Part = 'job') => ({ op: 'restore', part, path, id }) as Edit;
/** Puts an item before another; null is the end. */
export const move = (path: string[], id: string, before: string | null, part: Part = 'job') => ({ op: 'move', part, path, id, before }) as Edit;
/** Sets one field. */
export const set = (path: string[], value: unknown, part: Part = 'job') => ({ op: 'set', part, path, value }) as Edit;
