import helmet from '@fastify/helmet';
import fastify, { type FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import { v7 } from 'uuid';
import type { Context } from './context.ts';
import { answerProblem, answerProblems } from './doors/answer-problem.ts';
import { guard, tokenMemory } from './doors/authenticate.ts';
import { refuseEncodings } from './doors/content-encoding.ts';
import { graphDoor } from './doors/graphql/graph-door.ts';
import { limitInFlight } from './doors/in-flight.ts';
import { loggedRequest } from './doors/logged-request.ts';
import { readJsonBodies } from './doors/rest/json-body.ts';
import { describeApi } from './doors/rest/openapi.ts';
import { limitRate, REQUESTS_PER_MINUTE } from './doors/rest/rate-limit.ts';
import { restDoor } from './doors/rest/rest-door.ts';
import { pullRoutes } from './doors/sync/pull.ts';
import { pushRoute } from './doors/sync/push.ts';
import { type StreamOptions, streamRoute } from './doors/sync/stream.ts';
import { LIMITS } from './protocol/limits.ts';

/** Requests in work at once, in one process on two cores. */
const MOST_IN_FLIGHT = 256;

/**
 * Slow or idle connections are closed, whatever they wait for; the defaults of Fastify would keep them. `handlerTimeout`
 * ends with the reading of a body: a push is bounded by the limits of the database instead.
 */
const SERVER = {
  bodyLimit: LIMITS.bodyBytes,
  requestTimeout: 10_000,
  keepAliveTimeout: 5_000,
  handlerTimeout: 20_000,
  return503OnClosing: true,
  routerOptions: { maxParamLength: 200 },
  http: { headersTimeout: 5_000, connectionsCheckingInterval: 1_000, maxHeaderSize: 8_192 },
} as const;

/** Answers are data: nothing in them is to be run, framed or fetched. The reference page has a policy of its own. */
const SECURITY_HEADERS = {
  contentSecurityPolicy: { useDefaults: false, directives: { defaultSrc: ["'none'"], frameAncestors: ["'none'"] } },
} as const;

export interface AppOptions {
  /** Requests that a token may make through REST in a minute, in one process. */
  readonly requestsPerMinute?: number;
  /** Of live streams. */
  readonly streams?: StreamOptions['settings'];
}

/** Push and pull read what they are given byte for byte; their schemas only describe it. */
function syncDoor(sync: FastifyInstance, ctx: Context, streams: StreamOptions['settings'] = {}): void {
  sync.setValidatorCompiler(() => () => true);
  sync.setSerializerCompiler(() => (data) => JSON.stringify(data));
  pushRoute(sync, ctx);
  pullRoutes(sync, ctx);
  streamRoute(sync, ctx, { settings: streams, random: Math.random });
}

/** The server with its doors; the same for production and tests. Not listening yet. */
export async function openApp(ctx: Context, logger: Logger, settings: AppOptions = {}): Promise<FastifyInstance> {
  const loggerInstance = logger.child({}, { serializers: { req: loggedRequest } });
  const naming = { loggerInstance, genReqId: () => v7(), requestIdHeader: false as const };
  // an address that no route can read is refused before any hook, and in the same form
  const options = { ...SERVER, ...naming, frameworkErrors: answerProblem };
  const app = fastify(options) as unknown as FastifyInstance;
  app.addHook('onSend', async (request, reply) => {
    void reply.header('x-request-id', request.id);
  });
  await app.register(helmet, SECURITY_HEADERS);
  answerProblems(app);
  const memory = tokenMemory(ctx);
  // before the token is looked up: what waits for that look-up is in work as well
  limitInFlight(app, MOST_IN_FLIGHT);
  refuseEncodings(app);
  guard(app, ctx, memory);
  await describeApi(app);
  await app.register(
    (sync, _options, done) => {
      syncDoor(sync, ctx, settings.streams);
      done();
    },
    { prefix: '/v1/sync' },
  );
  const { requestsPerMinute = REQUESTS_PER_MINUTE } = settings;
  await app.register(restDoor, { ctx, memory, requestsPerMinute });
  const prepare = (graph: FastifyInstance) => {
    readJsonBodies(graph);
    limitRate(graph, requestsPerMinute);
  };
  await app.register(graphDoor, { ctx, prepare });
  return app;
}
