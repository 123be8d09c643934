import fastify, { type FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import { v7 } from 'uuid';
import type { Context } from './context.ts';
import { answerProblems } from './doors/answer-problem.ts';
import { guard, tokenMemory } from './doors/authenticate.ts';
import { limitInFlight } from './doors/in-flight.ts';
import { pullRoutes } from './doors/sync/pull.ts';
import { pushRoute } from './doors/sync/push.ts';
import { LIMITS } from './protocol/limits.ts';

/** Requests in work at once, in one process on two cores. */
const MOST_IN_FLIGHT = 256;

/** Slow or idle connections are closed, whatever they wait for; the defaults of Fastify would keep them. */
const SERVER = {
  bodyLimit: LIMITS.bodyBytes,
  requestTimeout: 10_000,
  keepAliveTimeout: 5_000,
  handlerTimeout: 20_000,
  return503OnClosing: true,
  routerOptions: { maxParamLength: 200 },
  http: { headersTimeout: 5_000, connectionsCheckingInterval: 1_000, maxHeaderSize: 8_192 },
} as const;

/** The server with its doors; the same for production and tests. Not listening yet. */
export async function openApp(ctx: Context, logger: Logger): Promise<FastifyInstance> {
  const options = { ...SERVER, loggerInstance: logger, genReqId: () => v7(), requestIdHeader: false as const };
  const app = fastify(options) as unknown as FastifyInstance;
  app.addHook('onSend', async (request, reply) => {
    void reply.header('x-request-id', request.id);
  });
  answerProblems(app);
  const memory = tokenMemory(ctx);
  guard(app, ctx, memory);
  limitInFlight(app, MOST_IN_FLIGHT);
  await app.register(
    (sync, _options, done) => {
      pushRoute(sync, ctx);
      pullRoutes(sync, ctx);
      done();
    },
    { prefix: '/v1/sync' },
  );
  return app;
}
