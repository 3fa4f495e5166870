// How a balloon colour is marked besides its colour: a pattern, in dark ink or in white.

/** The patterns, named as the job document names them. */
export type PatternName = 'plain' | 'hatched' | 'dotted' | 'barred' | 'crossed' | 'waved' | 'ringed' | 'checked';

/** What a part needs to draw one colour. */
export interface Shade {
  /** the colour's plain name */
  name: string;
  /** `#rrggbb` */
  srgb: string;
  /** a word that a newer version wrote is drawn plain */
  pattern: PatternName | 'newer';
}

interface Drawing {
  name: PatternName;
  /** side of the square that repeats, in the units of a swatch of 32; 0 draws nothing */
  tile: number;
  /** turn of the whole, degrees */
  turn: number;
  /** width of the stroke; 0 fills the path instead */
  stroke: number;
  path: string;
}

/** In the order in which colours are given them. */
export const PATTERNS: readonly Drawing[] = [
  { name: 'plain', tile: 0, turn: 0, stroke: 0, path: '' },
  { name: 'hatched', tile: 5, turn: -45, stroke: 0, path: 'M0 0h1.7v5h-1.7z' },
  {
    name: 'dotted',
    tile: 5,
    turn: 0,
    stroke: 0,
    path: 'M0 1.3a1.25 1.25 0 1 1 2.5 0a1.25 1.25 0 1 1-2.5 0zM2.5 3.8a1.25 1.25 0 1 1 2.5 0a1.25 1.25 0 1 1-2.5 0z',
  },
  { name: 'barred', tile: 4, turn: 0, stroke: 0, path: 'M0 0h1.5v4h-1.5z' },
  { name: 'crossed', tile: 5.5, turn: 45, stroke: 0, path: 'M0 0h1.3v5.5h-1.3zM1.3 0h4.2v1.3h-4.2z' },
  { name: 'waved', tile: 6, turn: 0, stroke: 1.4, path: 'M-1.5 3.9Q0 .9 1.5 3T4.5 3T7.5 3' },
  { name: 'ringed', tile: 6, turn: 0, stroke: 1.2, path: 'M.9 3a2.1 2.1 0 1 1 4.2 0a2.1 2.1 0 1 1-4.2 0z' },
  { name: 'checked', tile: 5, turn: 0, stroke: 0, path: 'M0 0h2.5v2.5h-2.5zM2.5 2.5h2.5v2.5h-2.5z' },
];

/** Ink of figures and patterns on light balloons: the same in every theme, as balloon colours are. */
const DARK_INK = '#1c1d21';
/** Least contrast of a figure with what it stands on (WCAG 2, level AA). */
const LEAST_CONTRAST = 4.5;
/** Contrast with the ink below which a balloon has a light edge. */
const LEAST_EDGE = 2;

/** Contrast of two colours by the WCAG 2 formula, 1 to 21. */
export function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

/** Whether a balloon colour is to carry dark figures (`light`) or white ones (`dark`). */
export function tone(srgb: string): 'light' | 'dark' {
  return contrast(srgb, DARK_INK) < LEAST_CONTRAST ? 'dark' : 'light';
}

/** The colour of a balloon's edge, told from the balloon in every theme, so that alike ones that lie on each other are seen apart. */
export function edgeOf(srgb: string): string {
  return contrast(srgb, DARK_INK) < LEAST_EDGE ? 'var(--on-dark-balloon)' : 'var(--on-light-balloon)';
}

/** A value for an SVG `fill`: the pattern of a colour, in the ink that can be seen on it. */
export function patternFill(shade: Pick<Shade, 'srgb' | 'pattern'>): string {
  const known = PATTERNS.find((p) => p.name === shade.pattern);
  return known && known.tile > 0 ? `url(#p-${known.name}-${tone(shade.srgb)})` : 'none';
}

/** The pattern for the colour that enters a palette next: the first that no colour there has, or else the least used. */
export function nextPattern(taken: readonly (PatternName | 'newer')[]): PatternName {
  const uses = (name: PatternName) => taken.filter((t) => t === name).length;
  const least = Math.min(...PATTERNS.map((p) => uses(p.name)));
  return PATTERNS.find((p) => uses(p.name) === least)?.name ?? 'plain';
}

/** A colour that can be drawn: `#rrggbb` in small letters, or a middle grey for anything else. */
export function drawable(srgb: string): string {
  return /^#[0-9a-f]{6}$/i.test(srgb) ? srgb.toLowerCase() : '#8f8f8f';
}

/** Relative luminance, 0 to 1: WCAG 2, definition of relative luminance. */
function luminance(srgb: string): number {
  const hex = drawable(srgb);
  const channel = (at: number) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}
