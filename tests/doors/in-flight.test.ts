import fastify from 'fastify';
import { expect, it } from 'vitest';
import { answerProblems } from '../../src/doors/answer-problem.ts';
import { limitInFlight } from '../../src/doors/in-flight.ts';

it('refuses what is beyond the limit at once, and forgets a request when it is answered', async () => {
  const app = fastify();
  answerProblems(app);
  limitInFlight(app, 2);
  let release = (): void => undefined;
  const released = new Promise<void>((resolve) => (release = resolve));
  app.get('/slow', { config: { access: ['admin'] } }, () => released.then(() => 'done'));
  const first = [app.inject('/slow'), app.inject('/slow')];
  await new Promise(setImmediate);
  const over = await app.inject('/slow');
  expect([over.statusCode, over.json().code, over.headers['retry-after']]).toEqual([503, 'busy', '1']);
  release();
  expect((await Promise.all(first)).map((answer) => answer.statusCode)).toEqual([200, 200]);
  for (let index = 0; index < 5; index++) expect((await app.inject('/slow')).statusCode).toBe(200);
});
