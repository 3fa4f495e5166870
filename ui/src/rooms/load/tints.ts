// The colour that a piece is known by: the one with the most balloons. Kit and what has no balloons stays the colour of paper.
import type { BallCount, PiecePlan, Plan } from '../../desk';

/** Colour ids of a piece with their balloons, the most first. */
export function coloursOf(piece: PiecePlan): { colour: string; balls: number }[] {
  const counts: BallCount[] = [...(piece.garland?.counts ?? []), ...(piece.garland?.fillers ?? []), ...(piece.chain?.counts ?? []), ...(piece.made?.balls ?? [])];
  const by = new Map<string, number>();
  for (const { colour, balls } of counts) by.set(colour, (by.get(colour) ?? 0) + balls);
  return [...by].map(([colour, balls]) => ({ colour, balls })).sort((a, b) => b.balls - a.balls || (a.colour < b.colour ? -1 : 1));
}

/** The colour of each piece that has one, as `#rrggbb`, by the piece's id. */
export function tints(plan: Pick<Plan, 'pieces'>, colours: { [id in string]?: { srgb: string } }): Map<string, string> {
  return new Map(
    plan.pieces.flatMap((piece) => {
      const srgb = colours[coloursOf(piece)[0]?.colour ?? '']?.srgb;
      return srgb ? [[piece.piece, srgb] as const] : [];
    }),
  );
}
