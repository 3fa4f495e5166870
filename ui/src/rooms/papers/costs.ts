// What is asked about the cost of a line of the order, in Papers and beside the line itself.
import type { OrderLine, Private } from '../../desk';

/** No cost of a bag of this is known. */
export function costless(priv: Private, line: OrderLine): boolean {
  const cost = priv.costs[line.item];
  return !cost || cost.bag <= 0;
}

/** A line of the order by what it is: it stays the same when the job comes to list it. */
export const lineKey = (line: OrderLine) => `${line.kind}.${line.colour}.${line.size_in}.${line.name}`;
