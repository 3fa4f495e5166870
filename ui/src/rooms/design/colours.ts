// Colours that a piece may take: those of the job, then those of the stockroom, which are copied into the job first.
import { call, type Books, type Job } from '../../desk';
import { asFault, type OpenJob } from '../../state/job.svelte';
import { live } from '../../state/lists';
import { t } from '../../texts/t';

/** What may be chosen; the value says from where. */
export function offered(job: Job, books: Books | null, without: readonly string[] = []): { value: string; label: string }[] {
  const own = live(job.colours);
  return [
    ...own.filter((c) => !without.includes(c.id)).map((c) => ({ value: `job:${c.id}`, label: c.name || t('design.lost_colour') })),
    ...live(books?.colours ?? {})
      .filter((c) => !own.some((o) => o.id === c.id))
      .map((c) => ({ value: `book:${c.id}`, label: t('design.from_stockroom', { name: c.name }) })),
  ];
}

/** The colour's id in the job, copied from the stockroom where need be; null if that was refused, which the frame shows. */
export async function taken(open: OpenJob, choice: string): Promise<string | null> {
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
