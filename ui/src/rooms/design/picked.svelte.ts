// The cluster that is picked, in the strip of the recipe or in the picture: both show the same one.

/** Of which piece, and its number along the recipe, counted from 0; it keeps its number when it is moved. */
export const picked = $state<{ piece: string; number: number | null }>({ piece: '', number: null });
