// Nominal sizes of balloons, and what each is usually blown to.

/** Tenths of a millimetre to the inch. */
export const INCH_DMM = 254;

/** Nominal sizes of rounds that are sold, in. */
export const SIZES: readonly number[] = [5, 6, 9, 10, 11, 12, 16, 17, 18, 24, 30, 36];

/** What rounds of a nominal size are blown to in an organic garland, from and to, tenths of a millimetre: small ones
 *  nearly full, middle ones to anything from half up, large ones nearly full. Common practice, no source. */
export function organic(size_in: number): { from_dmm: number; to_dmm: number } {
  const [from, to] = size_in <= 6 ? [size_in - 1, size_in - 0.5] : size_in <= 12 ? [size_in - 5, size_in - 1] : [size_in - 2, size_in - 1];
  return { from_dmm: Math.round(from * INCH_DMM), to_dmm: Math.round(to * INCH_DMM) };
}

/** What rounds of a nominal size are blown to where all are to be alike, tenths of a millimetre. Common practice, no source. */
export function even(size_in: number): number {
  const below = size_in <= 6 ? 0.6 : size_in <= 18 ? 2 : 3;
  return Math.round((size_in - below) * INCH_DMM);
}

/** Helium wants the whole balloon: blown to its nominal size, tenths of a millimetre. */
export const full = (size_in: number): number => Math.round(size_in * INCH_DMM);

/** How much of the line may show where a garland is to look full, percent: balloons of 5 in find gaps enough for that along a straight
 *  line, an arch, a swag and a hoop, measured with what a new garland begins with. At 2 they no longer do on an arch. */
export const FULL_PCT = 3;
/** All of it may: no fillers. */
export const BARE_PCT = 100;
