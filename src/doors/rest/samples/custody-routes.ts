import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import type { LabelMedia } from '../../../documents/labels/label-facts.ts';
import { readCoolerCustody } from '../../../reads/custody/cooler-custody.ts';
import { custodyRecordShape } from '../../../reads/custody/custody-record-shape.ts';
import { labelFilter, readEventLabels } from '../../../reads/custody/event-labels.ts';
import { readCustodyRecord } from '../../../reads/custody/read-custody-record.ts';
import { custodyOutput } from '../../../rules/custody/custody-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import { openPdfPool, type PdfPool } from '../../pdf/pdf-pool.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['custody'];

function pdfAnswer(description: string) {
  return { description, content: { 'application/pdf': { schema: z.string() } } };
}

/** Shown in the browser; what is in it is for those who may read it, and changes. */
function sendPdf(reply: FastifyReply, name: string, bytes: Uint8Array) {
  reply.header('content-disposition', `inline; filename="${name}.pdf"`).header('cache-control', 'private, no-store');
  return reply.type('application/pdf').send(Buffer.from(bytes) as never);
}

function custodyRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getCoolerCustody',
    summary: 'Who has a cooler, who had it from when until when, what is in it and what was received of it',
    description:
      'Relinquish and receive in pairs, stretches for which nobody is on record, seals, checks, nights, contents, and each receipt judged container by container: what is too warm for one is no matter for another. A bottle without a label is matched against what was expected and did not come; nothing is decided.',
    tags,
    params: idParams,
    response: {
      200: answer('Its custody', custodyOutput.meta({ id: 'CoolerCustody' })),
      ...problems('record_missing'),
    },
  };
  api.get('/coolers/:id/custody', { schema, config }, async ({ actor, params }) =>
    readCoolerCustody(ctx, actor, params.id, { now: ctx.now().toISOString() }),
  );
}

const RECORD =
  'One for each cooler, as it goes to the laboratory: told numbers and times, no parent of a blind duplicate, no remark of the field. A corrected value stands struck through beside the new one with initials, date and reason.';

function recordRoutes(api: Api, ctx: Context, pdf: PdfPool): void {
  const common = { tags, params: idParams };
  const paper = z.strictObject({ paper: z.enum(['letter', 'a4']).default('letter') });
  const asPdf = {
    ...common,
    operationId: 'getCustodyRecordPdf',
    summary: 'The chain-of-custody record of a cooler as PDF',
    description: `${RECORD} Drawn in a thread of its own; where too many wait, the answer is 503 with Retry-After.`,
    querystring: paper,
    response: { 200: pdfAnswer('The record'), ...problems('record_missing') },
  };
  api.get('/coolers/:id/custody-record.pdf', { schema: asPdf, config }, async ({ actor, params, query }, reply) => {
    const record = await readCustodyRecord(ctx, actor, params.id, ctx.now().toISOString());
    const bytes = await pdf.draw({ kind: 'custody-record', record, paper: query.paper });
    return sendPdf(reply, `custody-record-${params.id}`, bytes);
  });
  const asJson = {
    ...common,
    operationId: 'getCustodyRecordJson',
    summary: 'The chain-of-custody record of a cooler as data',
    description: `The facts that the PDF is drawn from. ${RECORD}`,
    response: { 200: answer('The record', custodyRecordShape), ...problems('record_missing') },
  };
  api.get('/coolers/:id/custody-record.json', { schema: asJson, config }, async ({ actor, params }, reply) => {
    const record = await readCustodyRecord(ctx, actor, params.id, ctx.now().toISOString());
    // as it is: what is checked against the shape would have to be copied first
    return reply
      .header('cache-control', 'private, no-store')
      .type('application/json')
      .send(JSON.stringify(record) as never);
  });
}

const mm = (most: number) => z.coerce.number().min(0).max(most).optional();

const labelsQuery = z.strictObject({
  ...labelFilter,
  form: z.enum(['sheet', 'roll']).default('sheet').describe('Sheets of labels, or one after the other on a roll'),
  labelWidthMm: mm(500).describe('Default: 98 on sheets, 76 on a roll'),
  labelHeightMm: mm(500).describe('Default: 50 on sheets, 38 on a roll'),
  paper: z.enum(['letter', 'a4']).default('letter').describe('Of sheets'),
  columns: z.coerce.number().int().min(1).max(20).default(2),
  rows: z.coerce.number().int().min(1).max(50).default(5),
  leftMm: mm(500).describe('From the edge of the paper to the first label. Default: 8'),
  topMm: mm(500).describe('Default: 14'),
  gapAcrossMm: mm(500).describe('Default: 4'),
  gapDownMm: mm(500).describe('Default: 0'),
  usedLabels: z.coerce.number().int().min(0).max(1_000).default(0).describe('Of the first sheet, used up already'),
});

/** ISO 216, and ANSI/ASME Y14.1 size A. */
const PAPERS_MM = { letter: [215.9, 279.4], a4: [210, 297] } as const;

function mediaOf(query: z.output<typeof labelsQuery>): LabelMedia {
  const isSheet = query.form === 'sheet';
  const labelWidthMm = query.labelWidthMm ?? (isSheet ? 98 : 76);
  const labelHeightMm = query.labelHeightMm ?? (isSheet ? 50 : 38);
  if (!isSheet) return { form: 'roll', labelWidthMm, labelHeightMm };
  const [paperWidthMm, paperHeightMm] = PAPERS_MM[query.paper];
  const { columns, rows, usedLabels, leftMm = 8, topMm = 14, gapAcrossMm = 4, gapDownMm = 0 } = query;
  const places = { columns, rows, leftMm, topMm, gapAcrossMm, gapDownMm, usedLabels };
  return { form: 'sheet', paperWidthMm, paperHeightMm, labelWidthMm, labelHeightMm, ...places };
}

function labelsRoute(api: Api, ctx: Context, pdf: PdfPool): void {
  const schema = {
    operationId: 'getLabelsPdf',
    summary: 'Labels of containers as PDF, each with a 2D code of its text',
    description:
      'Of what is expected and of what is filled; of one sample, well or crew, or all. Time and sampler of what is not filled yet are left for a pen. Default: sheets of 2 × 5.',
    tags,
    params: idParams,
    querystring: labelsQuery,
    response: { 200: pdfAnswer('The labels'), ...problems('record_missing', 'too_large') },
  };
  api.get('/events/:id/labels.pdf', { schema, config }, async ({ actor, params, query }, reply) => {
    const { labels, firm, event, timeZone } = await readEventLabels(ctx, actor, params.id, query);
    const about = { firm, title: `Labels of ${event}`, madeAt: ctx.now().toISOString(), timeZone };
    const bytes = await pdf.draw({ kind: 'labels', labels, media: mediaOf(query), about });
    return sendPdf(reply, `labels-${params.id}`, bytes);
  });
}

/** GET /coolers/ID/custody, /custody-record.pdf and .json, and /events/ID/labels.pdf. */
export function custodyRoutes(api: Api, ctx: Context, pdf: PdfPool = openPdfPool()): void {
  api.addHook('onClose', () => pdf.close());
  custodyRoute(api, ctx);
  recordRoutes(api, ctx, pdf);
  labelsRoute(api, ctx, pdf);
}
