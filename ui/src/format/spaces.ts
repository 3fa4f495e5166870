/** Joins a figure and its unit: they never part at the end of a line. */
export const NBSP = '\u00a0';
/** Between groups of three digits. */
export const THIN = '\u202f';

/** A name whose number at its end, `1 of 4`, stays in one line. */
export const numbered = (name: string) => name.replace(/(\d+) of (\d+)$/, `$1${NBSP}of${NBSP}$2`);
