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

/** What a ball is called beside its size: its colour, and what is inside. */
export function ballName(plan: Plan, ball: { colour: string; inside: string }): string {
  const seen = shadeOf(plan, ball.colour).name;
  return ball.inside ? `${seen}, ${t('make.inside', { name: shadeOf(plan, ball.inside).name })}` : seen;
}

/** From what to what a ball is blown, in inches to the half: "7½ to 9 in". */
export function blownSpan(from_dmm: number, to_dmm: number): string {
  const [from, to] = [blown(from_dmm / 10), blown(to_dmm / 10)];
  return span(from.figure, to.figure) + NBSP + to.unit;
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
