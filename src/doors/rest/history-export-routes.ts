import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import { historyCsvHead, historyCsvLines, historyCsvTail } from '../../documents/history/history-csv.ts';
import { historyJsonEntry, historyJsonHead, historyJsonTail } from '../../documents/history/history-json.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { type HistoryPages, recordHistoryExport, visitHistoryExport } from '../../reads/history-export.ts';
import { HISTORY_ACTS } from '../../rules/record-history/history-entry.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { pascal } from './kind-shapes.ts';
import { count, idParams } from './list-shapes.ts';
import { problems } from './problem-docs.ts';

const config = { access: EVERY_ROLE };
const hash = z.string().regex(/^[0-9a-f]{64}$/);

const change = z.strictObject({
  field: z.string(),
  was: z.unknown().optional(),
  is: z.unknown().optional(),
  wasName: z.string().optional().describe('Where it names a record: what that is called now'),
  isName: z.string().optional(),
});

const entry = z.strictObject({
  feed: z.string(),
  seq: count,
  kind: z.string(),
  id,
  rev: count,
  receivedAt: instant.describe('When the server took it'),
  client: id.nullable(),
  mutation: count.nullable(),
  decision: id.nullable().describe('The resolution by which it came about'),
  historyHashBefore: hash,
  historyHash: hash,
  act: z.enum(HISTORY_ACTS),
  by: id.nullable(),
  byName: z.string().nullable(),
  reason: z.string().nullable(),
  device: z.strictObject({ id, label: z.string().nullable() }).nullable(),
  changes: z.array(change).describe('Of a first state: everything that it gives'),
  record: z.record(z.string(), z.unknown()).nullable().describe('As it was; null where it left the feed'),
});

const historyExport = z
  .strictObject({
    about: z.strictObject({ kind: z.string(), id }),
    check: z.string().describe('How a reader checks each row alone'),
    entries: z.array(entry),
    count: count.describe('Of the entries; an export that was cut off does not end with it'),
  })
  .meta({ id: 'HistoryExport' });

const FORMATS = {
  json: { type: 'application/json; charset=utf-8', text: jsonText },
  csv: { type: 'text/csv; charset=utf-8; header=present', text: csvText },
} as const;
type Format = keyof typeof FORMATS;

const query = z.strictObject({
  format: z
    .enum(['json', 'csv'])
    .default('json')
    .describe(
      'json is complete; csv (RFC 4180) has one line a changed value, and a last one (`act` is `end`) with the number of entries',
    ),
});

interface About {
  readonly kind: string;
  readonly id: string;
}

async function* jsonText(about: About, pages: HistoryPages): AsyncGenerator<string> {
  yield historyJsonHead(about);
  let told = 0;
  for await (const page of pages) {
    yield page.map((one, index) => historyJsonEntry(one, told + index === 0)).join('');
    told += page.length;
  }
  yield historyJsonTail(told);
}

async function* csvText(_about: About, pages: HistoryPages): AsyncGenerator<string> {
  yield historyCsvHead();
  let told = 0;
  for await (const page of pages) {
    yield page.map(historyCsvLines).join('');
    told += page.length;
  }
  yield historyCsvTail(told);
}

/** Sent as it is read, so that the longest history takes no more memory than a page of it. */
function send(reply: FastifyReply, format: Format, about: About, pages: HistoryPages) {
  const { type, text } = FORMATS[format];
  const name = `${about.kind}-${about.id}-history.${format}`;
  reply.header('content-disposition', `attachment; filename="${name}"`).header('cache-control', 'private, no-store');
  return reply.type(type).send(Readable.from(text(about, pages)));
}

const answers = {
  200: {
    description: 'Every row of the ledger, oldest first',
    content: { 'application/json': { schema: historyExport }, 'text/csv': { schema: z.string() } },
  },
  ...problems('record_missing'),
};

/** GET /PLURAL/ID/history/export. */
export function historyExportRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `export${pascal(kind.name)}History`,
    summary: `The whole history of one ${kind.name}, as a file`,
    description:
      'Each state, who gave it, when it was observed, entered and received, from which device, why, and which value it ' +
      'replaced; with the conflicts about it and how they were decided. Each row carries what it takes to check it.',
    tags: [kind.name],
    params: idParams,
    querystring: query,
    response: answers,
  };
  api.get(`/${kind.plural}/:id/history/export`, { schema, config }, async ({ actor, params, query: asked }, reply) => {
    const pages = await recordHistoryExport(ctx, actor, kind, params.id);
    return send(reply, asked.format, { kind: kind.name, id: params.id }, pages);
  });
}

/** GET /visits/ID/whole-history. */
export function visitHistoryRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'exportVisitWholeHistory',
    summary: 'The whole history of a visit and of everything under it, as a file',
    description:
      'All that was recorded at the visit and all that was derived from it (assessments, flags, conflicts, summary), in ' +
      'the order in which the server took it: why a well was called stable can be followed in it.',
    tags: ['visit'],
    params: idParams,
    querystring: query,
    response: answers,
  };
  api.get('/visits/:id/whole-history', { schema, config }, async ({ actor, params, query: asked }, reply) => {
    const pages = await visitHistoryExport(ctx, actor, params.id);
    return send(reply, asked.format, { kind: 'visit', id: params.id }, pages);
  });
}
