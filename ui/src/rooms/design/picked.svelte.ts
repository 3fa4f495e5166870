// The cluster that is picked, in the strip of the recipe or in the picture: both show the same one.

/** Of which piece, its number along the recipe, counted from 0, which it keeps when it is moved, and where it was picked:
 *  what can be done with it stands there. */
export const picked = $state<{ piece: string; number: number | null; at: 'strip' | 'picture' }>({ piece: '', number: null, at: 'strip' });
