import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { SCHEMA_VERSION } from '../../protocol/version.ts';
import { feedList } from '../../reads/feed-list.ts';
import { feedPage, isCatchingUp } from '../../reads/feed-page.ts';
import { feedVerify } from '../../reads/feed-verify.ts';
import { PageCache } from '../../reads/page-cache.ts';
import { notePull } from '../../store/write/token-rows.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { Gate } from './gate.ts';
import { parseQuery } from './parse-query.ts';
import { syncDocs } from './route-docs.ts';

/**
 * Those who read a feed from its beginning share so many connections of the database; whoever comes for what is new
 * finds the others free, however many phones begin anew on a Monday morning.
 */
const CATCHING_UP_AT_ONCE = 4;
const CATCHING_UP_WAITING = 64;

const feedsQuery = z.strictObject({
  client: id.optional(),
  seen: instant
    .optional()
    .describe('Server time of the list of feeds that the device knew when it captured what it has not sent'),
  formerly: id.optional().describe('The client id given up because its numbers were used by a newer memory, or twice'),
});
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
  const gate = new Gate(CATCHING_UP_AT_ONCE, CATCHING_UP_WAITING);
  const pages = new PageCache();
  app.get('/feeds', { config, schema: { ...syncDocs.feeds, querystring: feedsQuery } }, async (request) => {
    const { client, seen = null, formerly = null } = parseQuery(feedsQuery, request.query);
    const { firm, token } = request.actor;
    const now = ctx.now().toISOString();
    const note = { token, schemaVersion: SCHEMA_VERSION, now, seen, formerly };
    if (client) await notePull(ctx.pool, firm, { client, ...note });
    const list = await feedList(ctx.pool, request.actor, client ?? null, now);
    return ctx.replicated ? { ...list, durable: list.lastMutation } : list;
  });
  const rows = { ...syncDocs.rows, querystring: rowsQuery };
  app.get<{ Params: { feed: string } }>('/feeds/:feed/rows', { config, schema: rows }, async (request, reply) => {
    const { cursor = null, limit, client = null } = parseQuery(rowsQuery, request.query);
    const { feed } = request.params;
    const read = () => feedPage(ctx.pool, request.actor, { feed, cursor, limit, client }, pages);
    const page = isCatchingUp(cursor) ? await gate.through(read, () => reply.raw.closed) : await read();
    return reply.type('application/json').send(page);
  });
  const verify = { ...syncDocs.verify, querystring: verifyQuery };
  app.get<{ Params: { feed: string } }>('/feeds/:feed/verify', { config, schema: verify }, async (request) => {
    const { prefix } = parseQuery(verifyQuery, request.query);
    return feedVerify(ctx.pool, request.actor, request.params.feed, prefix);
  });
}
