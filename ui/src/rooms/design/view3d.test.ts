import { Color, Matrix4, Vector3 } from 'three';
import { expect, test } from 'vitest';
import type { SceneBall } from '../../desk';
import { dots } from './flat';
import type { Room } from './room';
import { rounds } from './view3d';

const colours = new Map([
  ['rose', '#c8607c'],
  ['moss', '#6b7f52'],
  ['ivory', '#f4ead7'],
]);
/** Balls that wind round a line: before it, over it, behind it, under it. */
const balls = Array.from({ length: 24 }, (_, i) => ({
  at: [i * 700, 20_000 + 1500 * Math.sin(i), 1500 * Math.cos(i)].map(Math.round),
  r: 900 + (i % 5) * 100,
  colour: ['rose', 'moss', 'ivory'][i % 3] ?? '',
  inside: i % 4 === 0 ? 'ivory' : '',
  piece: 'p',
  cluster: Math.floor(i / 4),
})) as unknown as SceneBall[];

test('the picture that turns and the front view show each ball in the same place and colour', () => {
  const room = { balls, tubes: [], panels: [], low: [0, 0, 0], high: [0, 0, 0] } as Room;
  const turning = rounds(room, colours);
  const front = dots(room.balls);
  expect(turning.count).toBe(front.length);
  const [matrix, place, colour] = [new Matrix4(), new Vector3(), new Color()];
  const core = turning.geometry.getAttribute('core');
  for (const dot of front) {
    const i = balls.indexOf(dot.ball);
    turning.getMatrixAt(i, matrix);
    place.setFromMatrixPosition(matrix);
    // m and up, beside mm and down
    expect(place.x * 1000).toBeCloseTo(dot.cx, 1);
    expect(-place.y * 1000).toBeCloseTo(dot.cy, 1);
    expect(matrix.elements[0] * 1000).toBeCloseTo(dot.r, 1);
    turning.getColorAt(i, colour);
    expect(`#${colour.getHexString()}`).toBe(colours.get(dot.ball.colour));
    const inner = new Color(core.getX(i), core.getY(i), core.getZ(i));
    expect(`#${inner.getHexString()}`).toBe(colours.get(dot.ball.inside || dot.ball.colour));
  }
  // what lies before is drawn after what lies behind
  expect(front.every((dot, i) => i === 0 || (front[i - 1]?.ball.at[2] ?? 0) <= dot.ball.at[2])).toBe(true);
});
