/** Joins a figure and its unit: they never part at the end of a line. */
export const NBSP = '\u00a0';
/** Between groups of three digits. */
export const THIN = '\u202f';
