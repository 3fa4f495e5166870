import { expect, test } from 'vitest';
import type { compute, Job, Piece } from '../../desk';
import { Imagined } from './imagined.svelte';

/** A plan that counts what it was asked with, and answers when it is told to. */
function slow() {
  const asked: { depth: unknown; pieces: string[]; answer: (n: number) => void; refuse: () => void }[] = [];
  const plan = ((_: string, args: { depth: unknown; job: { pieces: object } }) =>
    new Promise((ok, no) => {
      asked.push({ depth: args.depth, pieces: Object.keys(args.job.pieces), answer: (n) => ok({ pieces: [{ piece: 'p', balloons: n }] }), refuse: () => no(new Error()) });
    })) as unknown as typeof compute;
  return { asked, plan };
}
const rest = () => new Promise((done) => setTimeout(done));
const job = { pieces: { p: {}, q: {} } } as unknown as Job;
const piece = {} as Piece;

test('the count while a size is dragged: by the instant rule, of that piece alone, one question at a time, the last one last', async () => {
  const { asked, plan } = slow();
  const imagined = new Imagined(plan);
  for (let i = 0; i < 5; i++) void imagined.look(job, 'p', piece);
  expect(asked.map((a) => [a.depth, a.pieces])).toEqual([['instant', ['p']]]);
  asked[0]?.answer(140);
  await rest();
  expect([imagined.balloons, asked.length]).toEqual([140, 2]);
  asked[1]?.answer(150);
  await rest();
  expect([imagined.balloons, asked.length]).toEqual([150, 2]);
});

test('an answer that comes after the plan has the count is not shown; the next drag asks again', async () => {
  const { asked, plan } = slow();
  const imagined = new Imagined(plan);
  void imagined.look(job, 'p', piece);
  imagined.drop();
  void imagined.look(job, 'p', piece);
  asked[0]?.answer(140);
  await rest();
  expect([imagined.balloons, asked.length]).toEqual([null, 2]);
  asked[1]?.refuse();
  await rest();
  expect(imagined.balloons).toBe(null);
});
