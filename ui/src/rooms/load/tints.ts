// The colour that a piece is known by, one of its own. Kit and what has no balloons stays the colour of paper.
import type { BallCount, PiecePlan, Plan } from '../../desk';

/** Colour ids of a piece with their balloons, the most first. */
export function coloursOf(piece: PiecePlan): { colour: string; balls: number }[] {
  const counts: BallCount[] = [...(piece.garland?.counts ?? []), ...(piece.garland?.fillers ?? []), ...(piece.chain?.counts ?? []), ...(piece.made?.balls ?? [])];
  const by = new Map<string, number>();
  for (const { colour, balls } of counts) by.set(colour, (by.get(colour) ?? 0) + balls);
  return [...by].map(([colour, balls]) => ({ colour, balls })).sort((a, b) => b.balls - a.balls || (a.colour < b.colour ? -1 : 1));
}

/** A colour for each piece that has one, as `#rrggbb`, by the piece's id: its own with the most balloons that no piece before it has,
 *  so that bags of two pieces are told apart; where all are taken, the one with the most. */
export function tints(plan: Pick<Plan, 'pieces'>, colours: { [id in string]?: { srgb: string } }): Map<string, string> {
  const taken = new Set<string>();
  return new Map(
    plan.pieces.flatMap((piece) => {
      const known = coloursOf(piece).filter(({ colour }) => colours[colour]);
      const own = (known.find(({ colour }) => !taken.has(colour)) ?? known[0])?.colour;
      if (own === undefined) return [];
      taken.add(own);
      return [[piece.piece, colours[own]?.srgb ?? ''] as const];
    }),
  );
}
