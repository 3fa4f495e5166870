// Adding a piece to the open job.
import type { Piece } from '../../desk';
import type { OpenJob } from '../../state/job.svelte';
import { add, freshId } from '../../state/lists';
import { books } from '../../state/books.svelte';
import { t } from '../../texts/t';
import { firstColours } from './colours';
import { copyOf, newPiece, type NewKind } from './newPiece';

/** A round foil of 18 in is so wide when it is filled, mm: 0.763 of its flat width (W. Paulsen, Amer. Math. Monthly 101, 1994). */
const ROUND_MM = 349;
/** A round foil among the characters of a text. */
export const ROUND = '●';

/** Adds a piece of a kind with the colours of the job; the first piece brings colours of the stockroom. Answers its id, or null if that was refused, which the frame shows. */
export async function addPiece(open: OpenJob, kind: NewKind): Promise<string | null> {
  if (books.all === null) await books.load();
  await firstColours(open, books.all);
  const id = freshId();
  const value = newPiece(kind, t(`pieces.kind_${kind}`), open.job, freshId);
  return (await open.edit([add(['pieces'], id, value)], t('design.added', { name: value.name }))) ? id : null;
}

/** Adds another piece like one, beside the others. Answers as above. */
export async function addCopy(open: OpenJob, piece: Piece): Promise<string | null> {
  const id = freshId();
  const value = copyOf(piece, open.job);
  return (await open.edit([add(['pieces'], id, value)], t('design.added', { name: value.name }))) ? id : null;
}

/** Puts foils into a garland, so far along it: a number to be changed, or a round. Answers as above. */
export async function addFoils(open: OpenJob, garland: string, along_mm: number, round: boolean): Promise<string | null> {
  const id = freshId();
  const made = newPiece('foils', t(round ? 'pieces.foil_round' : 'pieces.kind_foils'), open.job, freshId);
  const foils = { ...(made['foils'] as object), ...(round ? { text: ROUND, height_mm: ROUND_MM } : {}), stand: 'in_garland', along_mm };
  const value = { ...made, x_mm: 0, z_mm: 0, on: garland, foils };
  return (await open.edit([add(['pieces'], id, value)], t('design.added', { name: made.name }))) ? id : null;
}
