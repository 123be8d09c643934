import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { ExecutionResult } from 'graphql';
import mercurius from 'mercurius';
import type { Context } from '../../context.ts';
import { QUERY_LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { Snapshot } from '../../reads/snapshot.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { GraphContext } from './context.ts';
import { type GraphError, graphError, type Place, statusOf } from './graph-errors.ts';
import { checkCost } from './query-cost.ts';
import { checkDocument } from './query-limits.ts';
import { readQuery } from './read-query.ts';
import { Reads } from './reads.ts';
import { graphSchema } from './schema.ts';

/** At most so many faults of a query are found and told. */
const MOST_FAULTS = 10;

function placeOf({ id, log }: FastifyRequest): Place {
  return { requestId: id, log };
}

/** Faults met while answering go beside what could be answered; if nothing could, a busy database is worth a retry. */
function statusOfAnswer(data: unknown, errors: readonly GraphError[]): number {
  if (data === undefined) return Math.max(...errors.map(statusOf));
  const [first] = errors;
  return data === null && first?.extensions.code === 'busy' ? statusOf(first) : 200;
}

function mercuriusOptions() {
  return {
    schema: graphSchema(),
    routes: false,
    graphiql: false,
    allowBatchedQueries: false,
    graphql: {
      parseOptions: { maxTokens: QUERY_LIMITS.tokens },
      validateOptions: { maxErrors: MOST_FAULTS, hideSuggestions: true },
    },
    errorFormatter: (execution: ExecutionResult, { reply }: { readonly reply: FastifyReply }) => {
      const errors = (execution.errors ?? []).map((error) => graphError(error, placeOf(reply.request)));
      const response = { data: execution.data ?? null, errors } as unknown as ExecutionResult;
      return { statusCode: statusOfAnswer(execution.data, errors), response };
    },
  };
}

/** What was thrown instead of an answer: one fault, or those that were found in the query. */
function faultsIn(error: unknown): readonly unknown[] {
  const found = (error as { readonly errors?: unknown } | null)?.errors;
  return Array.isArray(found) && found.length > 0 ? found : [error];
}

/** Every refusal of this door has the form of GraphQL, so that its clients show it. */
function refuse(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const errors = faultsIn(error).map((one) => graphError(one, placeOf(request)));
  const status = Math.max(...errors.map(statusOf));
  if (status === 503 && !reply.hasHeader('retry-after')) reply.header('retry-after', '1');
  if (status === 401) reply.header('www-authenticate', 'Bearer');
  return reply.code(status).type('application/json').send({ errors });
}

/**
 * Gives up after a time. Fastify's own limit does not hold for a request with a body: it ends with the reading of it.
 *
 * @param over tells the work, which cannot be stopped at once, that nobody waits for it any more
 */
async function inTime<Result>(work: Promise<Result>, over: () => void): Promise<Result> {
  const done = new AbortController();
  const late = sleep(QUERY_LIMITS.timeMs, undefined, { signal: done.signal }).then(() => {
    over();
    const detail = `the answer took longer than timeMs ${QUERY_LIMITS.timeMs}; a change may have been made, repeat it under its key`;
    throw new Problem('busy', detail, { limit: 'timeMs' });
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    done.abort();
    for (const one of [work, late]) one.catch(() => undefined);
  }
}

async function resultOf(ctx: Context, request: FastifyRequest, reply: FastifyReply): Promise<ExecutionResult> {
  const { query, variables, operationName } = readQuery(request.body);
  const { actor, id } = request;
  const snapshot = new Snapshot(ctx.pool, actor.firm);
  const graph: GraphContext & Asked = { ctx, actor, requestId: id, reads: new Reads(snapshot, actor), operationName };
  const work = reply.graphql(query, graph, variables, operationName).finally(() => snapshot.close());
  // of a client that has gone nothing more is read
  const over = () => void snapshot.close();
  reply.raw.once('close', over);
  try {
    return await inTime(work, over);
  } finally {
    reply.raw.removeListener('close', over);
  }
}

/** What the limits are reckoned by, beside the query. */
interface Asked {
  readonly operationName: string | undefined;
}

function route(app: FastifyInstance, ctx: Context): void {
  app.graphql.addHook('preValidation', async (_schema, document) => checkDocument(document));
  app.graphql.addHook<Asked>('preExecution', async (schema, document, { operationName }, variables) =>
    checkCost(schema, document, variables ?? {}, operationName),
  );
  app.post('/graphql', { bodyLimit: QUERY_LIMITS.bodyBytes, config: { access: EVERY_ROLE } }, async (request, reply) =>
    reply.type('application/json').send(await resultOf(ctx, request, reply)),
  );
}

export interface GraphOptions {
  readonly ctx: Context;
  /** What the instance needs that is not of GraphQL: how bodies are read, how many requests are taken. */
  readonly prepare: (app: FastifyInstance) => void;
}

/** POST /graphql. */
export function graphDoor(app: FastifyInstance, { ctx, prepare }: GraphOptions, done: () => void): void {
  app.setErrorHandler(refuse);
  prepare(app);
  void app.register(mercurius, mercuriusOptions());
  // within a plugin, so that all of the above is in place before the route
  void app.register((graph, _none, ready) => {
    route(graph, ctx);
    ready();
  });
  done();
}
