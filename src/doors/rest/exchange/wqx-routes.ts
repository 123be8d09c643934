import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { type WqxParts, wqxCsvParts, wqxNotExported, wqxXmlParts } from '../../../documents/wqx/wqx-parts.ts';
import { readEventWqx } from '../../../reads/exchange/event-wqx.ts';
import { wqxAsked, wqxCsvAsked } from '../../../reads/exchange/wqx-asked.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };

const report = z
  .strictObject({ notExported: z.array(z.strictObject({ what: z.string(), why: z.string() })) })
  .meta({ id: 'WqxReport', description: 'What is not in the export' });

const ABOUT =
  'EPA Water Quality Exchange 3.0: field measurements, samples and blanks by their activity types, results of the ' +
  'laboratory. What cannot be told is never left out silently: ask with report=true.';

function answers(type: string) {
  const content = { [type]: { schema: z.string() }, 'application/json': { schema: report } };
  return { 200: { description: 'The export, or what is not in it', content }, ...problems('record_missing') };
}

function sendReport(reply: FastifyReply, parts: WqxParts) {
  return reply.type('application/json').send(JSON.stringify({ notExported: wqxNotExported(parts) }));
}

/** Where to read what is not in it: a file of CSV has no place for that. */
function reportLink(url: string): string {
  const address = new URL(url, 'http://localhost');
  address.searchParams.set('report', 'true');
  return `<${address.pathname}${address.search}>; rel="describedby"; type="application/json"`;
}

function send(reply: FastifyReply, name: string, type: string, parts: Iterable<string>) {
  reply.header('content-disposition', `attachment; filename="${name}"`).header('cache-control', 'private, no-store');
  return reply.header('link', reportLink(reply.request.url)).type(type).send(Readable.from(parts));
}

function xmlRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventWqxXml',
    summary: 'An event for the Water Quality Exchange, as XML',
    description: `${ABOUT} Comments at the end of the document say it too.`,
    tags: ['exchange'],
    params: idParams,
    querystring: wqxAsked,
    response: answers('application/xml'),
  };
  api.get('/events/:id/wqx.xml', { schema, config }, async ({ actor, params, query }, reply) => {
    const parts = await readEventWqx(ctx, actor, params.id, query);
    if (query.report === 'true') return sendReport(reply, parts) as never;
    return send(reply, `event-${params.id}-wqx.xml`, 'application/xml; charset=utf-8', wqxXmlParts(parts)) as never;
  });
}

function csvRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventWqxCsv',
    summary: 'An event for the Water Quality Exchange, as CSV',
    description: `${ABOUT} RFC 4180, headed by the names of the schema's elements: one line a result, or one a well.`,
    tags: ['exchange'],
    params: idParams,
    querystring: wqxCsvAsked,
    response: answers('text/csv'),
  };
  api.get('/events/:id/wqx.csv', { schema, config }, async ({ actor, params, query }, reply) => {
    const parts = await readEventWqx(ctx, actor, params.id, query);
    if (query.report === 'true') return sendReport(reply, parts) as never;
    const name = `event-${params.id}-wqx-${query.table}.csv`;
    const text = wqxCsvParts(parts, query.table);
    return send(reply, name, 'text/csv; charset=utf-8; header=present', text) as never;
  });
}

/** GET /events/ID/wqx.xml and /events/ID/wqx.csv. */
export function wqxRoutes(api: Api, ctx: Context): void {
  xmlRoute(api, ctx);
  csvRoute(api, ctx);
}
