// Colours that a piece may take: those of the job, then those of the stockroom, which are copied into the job first, and
// new ones that the decorator makes up.
import { call, type Books, type Colour, type Edit, type Job } from '../../desk';
import { nextPattern } from '../../parts/pattern';
import { asFault, type OpenJob } from '../../state/job.svelte';
import { add, freshId, live } from '../../state/lists';
import { t } from '../../texts/t';

/** The choice of a colour that does not exist yet. */
export const OWN = 'own:';
/** What a new colour may look like until it has its shade: wide apart from each other, the first a light grey that is seen on every ground. */
const FRESH_SRGB = ['#d8d4cc', '#c9704a', '#3f6fa8', '#7a9b57', '#d9a441', '#8a5fa8', '#b84a62', '#4aa3a0', '#6b4f3a', '#2f3e56', '#e8b9b4', '#a7b8c9'];
/** A piece that is the first of its job begins with so many colours of the stockroom. */
const FIRST = 3;

/** What may be chosen; the value says from where. The last is a colour of the decorator's own. */
export function offered(job: Job, books: Books | null, without: readonly string[] = []): { value: string; label: string }[] {
  const own = live(job.colours);
  return [
    ...own.filter((c) => !without.includes(c.id)).map((c) => ({ value: `job:${c.id}`, label: c.name || t('design.lost_colour') })),
    ...live(books?.colours ?? {})
      .filter((c) => !own.some((o) => o.id === c.id))
      .map((c) => ({ value: `book:${c.id}`, label: t('design.from_stockroom', { name: c.name }) })),
    { value: OWN, label: t('design.own_colour') },
  ];
}

/** How far two shades are apart: the sum of squares of their red, green and blue; what is no shade is far from all. */
function apart(a: string, b: string): number {
  const parts = (srgb: string) => (/^#[0-9a-f]{6}$/i.test(srgb) ? [1, 3, 5].map((i) => parseInt(srgb.slice(i, i + 2), 16)) : []);
  const [one, two] = [parts(a), parts(b)];
  return one.length === 0 || two.length === 0 ? Infinity : one.reduce((sum, n, i) => sum + (n - (two[i] ?? 0)) ** 2, 0);
}

/** The shade for a new colour that is farthest from those that are there. */
function freshShade(others: readonly { srgb: string }[]): string {
  const nearest = (srgb: string) => Math.min(Infinity, ...others.map((o) => apart(srgb, o.srgb)));
  return FRESH_SRGB.reduce((best, srgb) => (nearest(srgb) > nearest(best) ? srgb : best));
}

/** A new colour of the job, with a shade and a pattern that no other has yet, and the edit that adds it. */
export function fresh(job: Pick<Job, 'colours'>): { id: string; edit: Edit } {
  const id = freshId();
  const others = live(job.colours);
  const [name, n] = [t('design.own_name'), others.filter((c) => c.name.startsWith(t('design.own_name'))).length];
  const value: Pick<Colour, 'name' | 'srgb' | 'pattern'> = { name: n === 0 ? name : `${name} ${n + 1}`, srgb: freshShade(others), pattern: nextPattern(others.map((c) => c.pattern)) };
  return { id, edit: add(['colours'], id, value) };
}

/** A job without colours takes the first of the stockroom, or else one to be named: a new piece is seen at once. */
export async function firstColours(open: OpenJob, books: Books | null): Promise<void> {
  if (live(open.job.colours).length > 0) return;
  for (const { id } of live(books?.colours ?? {}).slice(0, FIRST)) await taken(open, `book:${id}`);
  if (live(open.job.colours).length === 0) await taken(open, OWN);
}

/** The colour's id in the job, copied from the stockroom or made where need be; null if that was refused, which the frame shows. */
export async function taken(open: OpenJob, choice: string): Promise<string | null> {
  if (choice === OWN) {
    const { id, edit } = fresh(open.job);
    return (await open.edit([edit], t('design.own_added'))) ? id : null;
  }
  const at = choice.indexOf(':');
  const [from, colour] = [choice.slice(0, at), choice.slice(at + 1)];
  if (!colour) return null;
  try {
    if (from === 'book') open.accept((await call('take_colour', { id: open.id, colour })).view);
    return colour;
  } catch (thrown) {
    open.refused = { ...asFault(thrown), label: t('design.add_colour') };
    return null;
  }
}
