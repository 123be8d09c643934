import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { id } from '../../protocol/primitives.ts';
import { SCHEMA_VERSION } from '../../protocol/version.ts';
import { feedList } from '../../reads/feed-list.ts';
import { feedPage } from '../../reads/feed-page.ts';
import { feedVerify } from '../../reads/feed-verify.ts';
import { notePull } from '../../store/write/token-rows.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { parseQuery } from './parse-query.ts';
import { syncDocs } from './route-docs.ts';

const feedsQuery = z.strictObject({ client: id.optional() });
const rowsQuery = z.strictObject({
  cursor: z.string().max(1_000).optional(),
  limit: z.coerce.number().int().min(1).max(LIMITS.feedPageRows).default(LIMITS.feedPageRows),
  client: id.optional(),
});
const verifyQuery = z.strictObject({
  prefix: z
    .string()
    .regex(/^[0-9a-f]{0,32}$/)
    .default(''),
});

/** GET /feeds, /feeds/FEED/rows and /feeds/FEED/verify. */
export function pullRoutes(app: FastifyInstance, ctx: Context): void {
  const config = { access: EVERY_ROLE };
  app.get('/feeds', { config, schema: { ...syncDocs.feeds, querystring: feedsQuery } }, async (request) => {
    const { client } = parseQuery(feedsQuery, request.query);
    const { firm, token } = request.actor;
    const now = ctx.now().toISOString();
    if (client) await notePull(ctx.pool, firm, { client, token, schemaVersion: SCHEMA_VERSION, now });
    return feedList(ctx.pool, request.actor, client ?? null, now);
  });
  const rows = { ...syncDocs.rows, querystring: rowsQuery };
  app.get<{ Params: { feed: string } }>('/feeds/:feed/rows', { config, schema: rows }, async (request, reply) => {
    const { cursor = null, limit, client = null } = parseQuery(rowsQuery, request.query);
    const { feed } = request.params;
    const page = await feedPage(ctx.pool, request.actor, { feed, cursor, limit, client });
    return reply.type('application/json').send(page);
  });
  const verify = { ...syncDocs.verify, querystring: verifyQuery };
  app.get<{ Params: { feed: string } }>('/feeds/:feed/verify', { config, schema: verify }, async (request) => {
    const { prefix } = parseQuery(verifyQuery, request.query);
    return feedVerify(ctx.pool, request.actor, request.params.feed, prefix);
  });
}
