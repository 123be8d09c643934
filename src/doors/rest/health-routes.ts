import { setTimeout as sleep } from 'node:timers/promises';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import type { Api } from './api.ts';
import { answer } from './problem-docs.ts';

/** A probe asks again soon, so it is answered soon; the pool itself would wait longer for a connection. */
const PATIENCE_MS = 2_000;

const config = { access: 'open' as const };
const tags = ['health'];

const ready = z.strictObject({ ready: z.boolean(), reasons: z.array(z.string()) }).meta({ id: 'Readiness' });

async function databaseFault(ctx: Context): Promise<unknown> {
  const patience = new AbortController();
  const late = sleep(PATIENCE_MS, 'late', { signal: patience.signal }).catch(() => 'late');
  const asked = ctx.pool.query('select 1 from installation').then(
    () => null,
    (error: unknown) => error,
  );
  return Promise.race([asked, late]).finally(() => patience.abort());
}

/**
 * A process of the version before may well go on: most migrations only add. It is ready, and says that it should not be
 * the last to go.
 */
async function newerTables(ctx: Context): Promise<string[]> {
  const names = (await ctx.newerMigrations?.().catch(() => [])) ?? [];
  if (names.length === 0) return [];
  return [`the database was brought up to date by a newer version (${names.join(', ')}): end this process`];
}

/** GET /livez, which touches nothing, and GET /readyz, which asks the database. Open: they tell nothing of any firm. */
export function healthRoutes(api: Api, ctx: Context): void {
  const live = {
    operationId: 'isLive',
    summary: 'The process runs',
    tags,
    response: { 200: answer('It does', z.strictObject({ live: z.literal(true) })) },
  };
  api.get('/livez', { schema: live, config }, async () => ({ live: true as const }));
  const schema = {
    operationId: 'isReady',
    summary: 'The server can do its work',
    tags,
    response: { 200: answer('It can', ready), 503: answer('It cannot, with the reasons', ready) },
  };
  api.get('/readyz', { schema, config }, async (request, reply) => {
    const fault = await databaseFault(ctx);
    if (fault === null) return { ready: true, reasons: await newerTables(ctx) };
    request.log.warn({ err: fault }, 'not ready: the database does not answer');
    const how = fault === 'late' ? `within ${PATIENCE_MS} ms` : 'a question: see the log';
    return reply.code(503).send({ ready: false, reasons: [`the database does not answer ${how}`] });
  });
}
