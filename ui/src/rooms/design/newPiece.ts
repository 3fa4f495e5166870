// New pieces: each kind that a decorator may add, as a whole value with the job's own colours.
import type { Job, Piece, PieceKind } from '../../desk';
import { apportion } from '../../parts/mix';
import { live } from '../../state/lists';
import { freePlace, long } from './free';
import { even, full, FULL_PCT, organic } from './sizes';

/** What may be added. Several are forms of one kind. */
export type NewKind =
  | 'garland' | 'column' | 'arch' | 'wall' | 'link_chain' | 'ring_chain' | 'bouquet' | 'foils' | 'floaters'
  | 'centrepiece' | 'accents' | 'singles' | 'frame' | 'backdrop' | 'rail' | 'mesh';

/** About how wide a new piece of a kind is, mm. */
const NEW_MM: Record<NewKind, number> = {
  garland: 3000, column: 600, arch: 3000, wall: 2000, link_chain: 3000, ring_chain: 3000, bouquet: 600, foils: 700, floaters: 3000,
  centrepiece: 600, accents: 600, singles: 600, frame: 2000, backdrop: 2000, rail: 3000, mesh: 2000,
};

/** The text that names a kind. */
export type KindText = `pieces.kind_${NewKind}` | 'design.kind_newer';

/** In groups, as they are offered. */
export const GROUPS: readonly { title: `pieces.group_${'line' | 'built' | 'helium' | 'small' | 'frames'}`; kinds: readonly NewKind[] }[] = [
  { title: 'pieces.group_line', kinds: ['garland', 'link_chain', 'ring_chain'] },
  { title: 'pieces.group_built', kinds: ['column', 'arch', 'wall'] },
  { title: 'pieces.group_helium', kinds: ['bouquet', 'floaters'] },
  { title: 'pieces.group_small', kinds: ['foils', 'centrepiece', 'accents', 'singles'] },
  { title: 'pieces.group_frames', kinds: ['frame', 'backdrop', 'rail', 'mesh'] },
];

/** Another piece like one, ready for `add`: as it is, with a name of its own, where there is room. What hangs on a frame hangs on none, for
 *  that frame has its garland; foils in a garland stay in it. */
export function copyOf(piece: Piece & { id?: string }, job: Pick<Job, 'pieces'>): { name: string } & Record<string, unknown> {
  const kept: Partial<Piece> & Record<string, unknown> = JSON.parse(JSON.stringify(piece));
  for (const key of ['id', 'order', 'gone']) delete kept[key];
  const inside = piece.kind === 'foils' && piece.foils.stand === 'in_garland';
  const place = inside ? {} : { ...freePlace(live(job.pieces), long(piece)), on: '' };
  return { ...kept, name: freeName(piece.name.replace(/ \d+$/, ''), live(job.pieces)), ...place };
}

/** A new piece of a kind, ready for `add`: what is not named has its default. `name` is what the kind is called; a
 *  number follows it where the job has a piece of that name. `id` makes the ids of what lies inside it. */
export function newPiece(kind: NewKind, name: string, job: Pick<Job, 'colours' | 'pieces'>, id: () => string): { name: string; kind: PieceKind } & Record<string, unknown> {
  const inUse = coloursInUse(job);
  const first = inUse[0] ?? '';
  const few = (most: number) => palette(inUse, most, id);
  const named = { name: freeName(name, live(job.pieces)), ...freePlace(live(job.pieces), NEW_MM[kind]) };
  switch (kind) {
    case 'garland':
      return {
        ...named,
        kind,
        // sixty of 11 in to ten of 16 in, and small ones between: common practice, no source
        garland: { mix: mix([[11, 65], [16, 10], [5, 25]], id), palette: few(3), arrangement: 'blended', show_pct: FULL_PCT, points: {}, hand: {} },
      };
    case 'column':
      return { ...named, kind: 'classic', classic: { form: 'column', palette: few(2), topper_colour: first } };
    case 'arch':
      return { ...named, kind: 'classic', classic: { form: 'arch', palette: few(2), topper_colour: first } };
    case 'wall':
      return { ...named, kind, wall: { palette: few(3) } };
    case 'link_chain':
      return { ...named, kind: 'chain', mount: 'ceiling_points', chain: { form: 'latex', palette: few(2) } };
    case 'ring_chain':
      // a ring link of foil is about as long as it is wide and hooks a third of that into the next: from memory
      return { ...named, kind: 'chain', mount: 'ceiling_points', chain: { form: 'ring', size_in: 18, blown_dmm: even(18), pitch_mm: 300, palette: few(2) } };
    case 'bouquet':
      return { ...named, kind, bouquet: { palette: few(3), foil_colour: first } };
    case 'foils':
      return { ...named, kind, foils: { text: '1', colour: first } };
    case 'floaters':
      return { ...named, kind, floaters: { palette: few(3), blown_dmm: full(11) } };
    case 'centrepiece':
      return { ...named, kind, centrepiece: { palette: few(2), top_colour: first } };
    case 'accents':
      return { ...named, kind: 'loose', loose: { form: 'accent', palette: few(2) } };
    case 'singles':
      return { ...named, kind: 'loose', loose: { form: 'single', count: 10, size_in: 11, blown_dmm: even(11), palette: few(2) } };
    case 'frame':
      return { ...named, kind, frame: { form: 'gate' } };
    case 'backdrop':
      return { ...named, kind: 'frame', frame: { form: 'backdrop', width_mm: 2000, height_mm: 2100 } };
    case 'rail':
      // the venue's own: nothing to carry and nothing to ballast
      return {
        ...named,
        kind: 'frame',
        frame: { form: 'rail', width_mm: 3000, height_mm: 1000, base_mm: 0, packed_length_mm: 0, packed_width_mm: 0, packed_height_mm: 0, mass_g: 0 },
      };
    case 'mesh':
      return { ...named, kind: 'frame', frame: { form: 'mesh', width_mm: 2000, height_mm: 2000 } };
  }
}

/** Of a piece, what it is called in words: the form says more than the kind. */
export function kindOf(piece: Pick<Piece, 'kind' | 'classic' | 'chain' | 'loose' | 'frame'>): KindText {
  switch (piece.kind) {
    case 'classic':
      return piece.classic.form === 'arch' ? 'pieces.kind_arch' : 'pieces.kind_column';
    case 'chain':
      return piece.chain.form === 'ring' ? 'pieces.kind_ring_chain' : 'pieces.kind_link_chain';
    case 'loose':
      return piece.loose.form === 'single' ? 'pieces.kind_singles' : 'pieces.kind_accents';
    case 'frame':
      return piece.frame.form === 'backdrop' || piece.frame.form === 'rail' || piece.frame.form === 'mesh' ? `pieces.kind_${piece.frame.form}` : 'pieces.kind_frame';
    case 'newer':
      return 'design.kind_newer';
    default:
      return `pieces.kind_${piece.kind}`;
  }
}

/** The colours that a new piece begins with: those of the first piece that has any, as the job's own look; else all of the job. */
function coloursInUse(job: Pick<Job, 'colours' | 'pieces'>): string[] {
  const there = live(job.colours).map((c) => c.id);
  for (const piece of live(job.pieces)) {
    const kind = piece.kind;
    const parts = kind === 'frame' || kind === 'foils' || kind === 'newer' ? {} : piece[kind].palette;
    const used = live(parts).filter((e) => e.share_pct > 0).map((e) => e.colour);
    const known = [...new Set(used)].filter((c) => there.includes(c));
    if (known.length > 0) return known;
  }
  return there;
}

/** The first of these colours in even shares that make 100. */
function palette(colours: readonly string[], most: number, id: () => string) {
  const few = colours.slice(0, most);
  const shares = apportion(few.map(() => 1), 100);
  return Object.fromEntries(few.map((colour, i) => [id(), { colour, share_pct: shares[i] ?? 0, order: place(i) }]));
}

function mix(sizes: readonly (readonly [size_in: number, share_pct: number])[], id: () => string) {
  return Object.fromEntries(sizes.map(([size_in, share_pct], i) => [id(), { size_in, share_pct, ...organic(size_in), order: place(i) }]));
}

/** An order key, as the store writes them: 8180, 8280 and so on. */
const place = (i: number) => `${(0x81 + i).toString(16)}80`;

function freeName(name: string, pieces: readonly { name: string }[]): string {
  const taken = new Set(pieces.map((p) => p.name));
  if (!taken.has(name)) return name;
  let n = 2;
  while (taken.has(`${name} ${n}`)) n++;
  return `${name} ${n}`;
}
