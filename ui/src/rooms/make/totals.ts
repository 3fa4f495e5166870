// What is blown for the whole job, all pieces together.
import type { SizingLine } from '../../desk';
import { blown, text } from '../../format/units';

/** Blown with neither pump nor inflator. */
export const withHelium = (line: SizingLine) => line.strokes === null && line.inflator_ds === null;

/** The rows of the sizing sheet summed over the pieces: of one colour and nominal size what is blown to the same figure, air and helium
 *  apart. Colours stand in the order in which they come first, then large before small. A sum has no piece. */
export function totals(lines: readonly SizingLine[]): SizingLine[] {
  const sums = new Map<string, SizingLine>();
  const worn = (line: SizingLine) => JSON.stringify([line.colour, line.inside]);
  const places = [...new Set(lines.map(worn))];
  for (const line of lines) {
    const key = JSON.stringify([worn(line), line.kind, line.size_in, text(blown(line.blown_dmm / 10)), withHelium(line)]);
    const sum = sums.get(key);
    if (sum) sum.count += line.count;
    else sums.set(key, { ...line, piece: '' });
  }
  const place = (line: SizingLine) => places.indexOf(worn(line));
  return [...sums.values()].sort((a, b) => place(a) - place(b) || b.size_in - a.size_in || b.blown_dmm - a.blown_dmm);
}
