// How balls of a plan are drawn and called.
import type { Ball, Plan } from '../../desk';
import { blown } from '../../format/units';
import { span } from '../../format/number';
import { NBSP } from '../../format/spaces';
import type { Shade } from '../../parts/pattern';
import { t } from '../../texts/t';

/** The shade of a colour of the plan. A colour that the job has lost is a plain grey with a name that says so. */
export function shadeOf(plan: Plan, colour: string): Shade {
  return plan.colours.find((c) => c.colour === colour) ?? { name: t('design.lost_colour'), srgb: '', pattern: 'plain' };
}

/** What a ball is called beside its size, as on paper: its colour, and over which other one. */
export function ballName(plan: Plan, ball: { colour: string; inside: string }): string {
  const seen = shadeOf(plan, ball.colour).name;
  return ball.inside ? t('make.over', { seen, inside: shadeOf(plan, ball.inside).name }) : seen;
}

/** From what to what a ball is blown, in inches to the half: "7½ to 9 in". */
export function blownSpan(from_dmm: number, to_dmm: number): string {
  const [from, to] = [blown(from_dmm / 10), blown(to_dmm / 10)];
  return span(from.figure, to.figure) + NBSP + to.unit;
}

/** What groups of balls that are tied together are called, after their number. */
export function groupName(group: { name: string; balls: readonly unknown[]; count: number }): string {
  const [n, of] = [group.count, group.balls.length];
  if (group.name === 'quad') return t('make.group_quad', { n });
  if (group.name === 'accent') return t('make.group_accent', { n });
  if (group.name === 'foot') return t('make.group_foot', { n, of });
  return t('make.group_ring', { n, of });
}

/** Alike balls with how many there are, in the order in which they come first. */
export function alikeBalls(balls: readonly Ball[]): { ball: Ball; times: number }[] {
  const alike: { ball: Ball; times: number }[] = [];
  for (const ball of balls) {
    const same = (b: Ball) => b.colour === ball.colour && b.inside === ball.inside && b.size_in === ball.size_in && b.blown_dmm === ball.blown_dmm;
    const known = alike.find((a) => same(a.ball));
    if (known) known.times++;
    else alike.push({ ball, times: 1 });
  }
  return alike;
}

/** The letter of a colour on the map of a wall, as on paper; more than 26 share the last. */
export const letterOf = (n: number): string => String.fromCharCode(65 + Math.min(n, 25));

/** A row of a map in words, from the left: "3 A, 1 B, 2 A". */
export function runsOf(row: readonly number[]): string {
  const runs: { of: number; n: number }[] = [];
  for (const of of row) {
    const last = runs.at(-1);
    if (last?.of === of) last.n++;
    else runs.push({ of, n: 1 });
  }
  return runs.map((r) => `${r.n}${NBSP}${letterOf(r.of)}`).join(', ');
}

/** The rounds of a card for its drawing, pair by pair. */
export function rounds(plan: Plan, pairs: { times: number; balls: Ball[] }[]) {
  return pairs.flatMap((pair) =>
    Array.from({ length: pair.times }, () => pair.balls).flat().map((ball) => ({
      shade: shadeOf(plan, ball.colour),
      diameter: ball.blown_dmm,
      figure: String(ball.size_in),
    })),
  );
}
