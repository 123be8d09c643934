import { z } from 'zod';
import type { Context } from '../../context.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import { oneRecord } from '../../reads/one-record.ts';
import { recordHistoryPage } from '../../reads/record-history.ts';
import { recordPage } from '../../reads/record-page.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { etagOf, isKnown } from './etag.ts';
import { filtersOf, type ListQuery, splitQuery } from './filters.ts';
import { historyExportRoute } from './history-export-routes.ts';
import { kindShapes, pascal } from './kind-shapes.ts';
import { idParams, nextLink, paging } from './list-shapes.ts';
import { answer, problems } from './problem-docs.ts';

const config = { access: EVERY_ROLE };

function listRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `list${pascal(kind.plural)}`,
    summary: `List ${kind.plural}`,
    description: `${kind.description} In pages, in the order of their ids; the header Link names the next page.`,
    tags: [kind.name],
    querystring: filtersOf(kind),
    response: { 200: answer('A page', kindShapes(kind).page), ...problems() },
  };
  api.get(`/${kind.plural}`, { schema, config }, async (request, reply) => {
    const { page, filters } = splitQuery(request.query as ListQuery);
    const { texts, next } = await recordPage(ctx, request.actor, kind, filters, page);
    // the stored texts go into the page as they are
    const body = `{"items":[${texts.join(',')}],"next":${JSON.stringify(next)}}`;
    return reply.headers(nextLink(request.url, next)).type('application/json').send(body);
  });
}

function getRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `get${pascal(kind.name)}`,
    summary: `Read one ${kind.name}`,
    description: `${kind.description} As it stands in its feed; the ETag is its revision.`,
    tags: [kind.name],
    params: idParams,
    headers: z.looseObject({ 'if-none-match': z.string().max(1_000).optional() }),
    response: {
      200: answer('The record', kindShapes(kind).record),
      304: { description: 'As you know it', content: { 'application/json': { schema: z.undefined() } } },
      ...problems('record_missing'),
    },
  };
  api.get(`/${kind.plural}/:id`, { schema, config }, async (request, reply) => {
    const record = await oneRecord(ctx, request.actor, kind, request.params.id);
    const etag = etagOf(kind, record);
    reply.header('etag', etag).header('cache-control', 'private, no-cache');
    if (isKnown(request.headers['if-none-match'], etag)) return reply.code(304).send();
    return reply.type('application/json').send(record.text);
  });
}

function historyRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `list${pascal(kind.name)}History`,
    summary: `Everything that one ${kind.name} ever said`,
    description: 'Oldest first: each state, what it replaced, by whom, why, and when the server took it.',
    tags: [kind.name],
    params: idParams,
    querystring: z.strictObject(paging),
    response: { 200: answer('A page', kindShapes(kind).history), ...problems('record_missing') },
  };
  api.get(`/${kind.plural}/:id/history`, { schema, config }, async (request, reply) => {
    const { entries, next } = await recordHistoryPage(ctx, request.actor, kind, request.params.id, request.query);
    const body = JSON.stringify({ items: entries, next });
    return reply.headers(nextLink(request.url, next)).type('application/json').send(body);
  });
}

/** GET /PLURAL, /PLURAL/ID, /PLURAL/ID/history and /PLURAL/ID/history/export. */
export function readRoutes(api: Api, ctx: Context, kind: KindDefinition): void {
  listRoute(api, ctx, kind);
  getRoute(api, ctx, kind);
  historyRoute(api, ctx, kind);
  historyExportRoute(api, ctx, kind);
}
