import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { listedRow } from '../../../documents/sample-list/sample-list-json.ts';
import { id } from '../../../protocol/primitives.ts';
import {
  readLaboratoryEvents,
  readLaboratoryList,
  readLaboratoryOrders,
  readListChanges,
  readOfficeList,
} from '../../../reads/laboratory/laboratory-list.ts';
import { expectedTotals } from '../../../rules/laboratory/expected-totals.ts';
import { ordersTold } from '../../../rules/laboratory/orders-told.ts';
import { EVERY_ROLE, LABORATORY } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { count, idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';
import { LIST_FORMAT_NAMES, type ListFormat, listAnswer, listedRowShape, listShape, sendList } from '../send-list.ts';

const tags = ['laboratory'];
const office = { access: EVERY_ROLE };
const laboratory = { access: LABORATORY };

const numbered = z.strictObject({ sampleNumber: z.string(), labelId: z.string() });

const head = {
  cursor: z.string().describe('For `since`: what is new from here on'),
  expected: expectedTotals,
  coolers: z
    .array(z.strictObject({ id, number: z.string(), containers: count }))
    .describe('Those whose bottles are listed; a receipt names one by its number, or by this id'),
};

const listWithHead = listShape.extend(head).meta({ id: 'LaboratoryList' });

const changes = z
  .strictObject({
    ...head,
    added: z.array(listedRowShape),
    changed: z.array(z.strictObject({ was: numbered, row: listedRowShape })),
    noLongerListed: z.array(numbered),
  })
  .meta({ id: 'LaboratoryListChanges' });

const since = z.strictObject({
  since: z
    .string()
    .max(400)
    .optional()
    .describe(
      'The cursor of a list: the answer is then what was added and changed since, and what is no longer listed',
    ),
});

function officeListRoute(api: Api, ctx: Context, format: ListFormat): void {
  const schema = {
    operationId: `getSampleList${format[0]?.toUpperCase()}${format.slice(1)}`,
    summary: `The sample list of an event as ${format.toUpperCase()}`,
    description:
      'Every container of the event as it is, with its standing and the end of its tightest clock. What a laboratory is told is at /v1/laboratory/events/ID/list.',
    tags,
    params: idParams,
    response: { 200: listAnswer(format), ...problems('record_missing') },
  };
  api.get(`/events/:id/sample-list.${format}`, { schema, config: office }, async ({ actor, params }, reply) => {
    const rows = await readOfficeList(ctx, actor, params.id);
    return sendList(reply, { format, name: `sample-list-${params.id}`, rows });
  });
}

function laboratoryListRoute(api: Api, ctx: Context, format: 'csv' | 'xlsx'): void {
  const schema = {
    operationId: `getLaboratoryList${format[0]?.toUpperCase()}${format.slice(1)}`,
    summary: `The list of the laboratory as ${format.toUpperCase()}`,
    description: 'The bottles that are on their way to it, with the numbers and times that it is told.',
    tags,
    params: idParams,
    response: { 200: listAnswer(format), ...problems('record_missing') },
  };
  const address = `/laboratory/events/:id/list.${format}`;
  api.get(address, { schema, config: laboratory }, async ({ actor, params }, reply) => {
    const { rows } = await readLaboratoryList(ctx, actor, params.id);
    return sendList(reply, { format, name: `sample-list-${params.id}`, rows });
  });
}

function laboratoryJsonRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getLaboratoryListJson',
    summary: 'The list of the laboratory as JSON, or what is new of it',
    description:
      'The bottles that are on their way to it, with the numbers and times that it is told. Those of a cooler come all at once, when it is closed; before that only totals of what is planned are told.',
    tags,
    params: idParams,
    querystring: since,
    response: { 200: listAnswer('json', z.union([listWithHead, changes])), ...problems('record_missing') },
  };
  const address = '/laboratory/events/:id/list.json';
  api.get(address, { schema, config: laboratory }, async ({ actor, params, query }, reply) => {
    const event = params.id;
    if (query.since === undefined) {
      const { rows, ...given } = await readLaboratoryList(ctx, actor, event);
      return sendList(reply, { format: 'json', name: `sample-list-${event}`, rows, head: given });
    }
    const told = await readListChanges(ctx, actor, { event, since: query.since });
    const changed = told.changed.map(({ was, row }) => ({ was, row: listedRow(row) }));
    reply.header('cache-control', 'private, no-store').type('application/json; charset=utf-8');
    return reply.send(JSON.stringify({ ...told, added: told.added.map(listedRow), changed }));
  });
}

function laboratoryEventRoutes(api: Api, ctx: Context): void {
  const date = z.string().nullable();
  const event = z
    .strictObject({
      id,
      name: z.string().nullable(),
      site: z.string().nullable(),
      starts: date,
      ends: date,
      standing: date,
    })
    .meta({ id: 'LaboratoryEvent' });
  const list = {
    operationId: 'listLaboratoryEvents',
    summary: 'The events that concern the laboratory, the latest first',
    tags,
    response: {
      200: answer(
        'Those of which bottles are planned for it or on their way',
        z.strictObject({ items: z.array(event) }),
      ),
      ...problems(),
    },
  };
  api.get('/laboratory/events', { schema: list, config: laboratory }, async ({ actor }) => ({
    items: await readLaboratoryEvents(ctx, actor),
  }));
  const orders = {
    operationId: 'getLaboratoryOrders',
    summary: 'What is ordered of the laboratory: analytes, reporting limits, turnaround, and what is to come',
    tags,
    params: idParams,
    response: { 200: answer('As ordered', ordersTold), ...problems('record_missing') },
  };
  api.get('/laboratory/events/:id/orders', { schema: orders, config: laboratory }, async ({ actor, params }) =>
    readLaboratoryOrders(ctx, actor, params.id),
  );
}

/** GET /events/ID/sample-list.*, /laboratory/events, /laboratory/events/ID/list.* and /laboratory/events/ID/orders. */
export function sampleListRoutes(api: Api, ctx: Context): void {
  for (const format of LIST_FORMAT_NAMES) officeListRoute(api, ctx, format);
  laboratoryEventRoutes(api, ctx);
  laboratoryJsonRoute(api, ctx);
  laboratoryListRoute(api, ctx, 'csv');
  laboratoryListRoute(api, ctx, 'xlsx');
}
