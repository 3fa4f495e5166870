// Adding a piece to the open job.
import type { OpenJob } from '../../state/job.svelte';
import { add, freshId } from '../../state/lists';
import { books } from '../../state/books.svelte';
import { t } from '../../texts/t';
import { firstColours } from './colours';
import { newPiece, type NewKind } from './newPiece';

/** Adds a piece of a kind with the colours of the job; the first piece brings colours of the stockroom. Answers its id, or null if that was refused, which the frame shows. */
export async function addPiece(open: OpenJob, kind: NewKind): Promise<string | null> {
  if (books.all === null) await books.load();
  await firstColours(open, books.all);
  const id = freshId();
  const value = newPiece(kind, t(`pieces.kind_${kind}`), open.job, freshId);
  return (await open.edit([add(['pieces'], id, value)], t('design.added', { name: value.name }))) ? id : null;
}
