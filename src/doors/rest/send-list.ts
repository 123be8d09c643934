import { Readable } from 'node:stream';
import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import { sampleListCsv } from '../../documents/sample-list/sample-list-csv.ts';
import { sampleListJson } from '../../documents/sample-list/sample-list-json.ts';
import { sampleListXlsx } from '../../documents/sample-list/sample-list-xlsx.ts';
import type { SampleListRow } from '../../rules/laboratory/list-row.ts';

type Rows = Iterable<SampleListRow>;
type Head = Readonly<Record<string, unknown>>;

const XLSX = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

export const LIST_FORMATS = {
  json: { type: 'application/json; charset=utf-8', pieces: (rows: Rows, head: Head) => sampleListJson(rows, head) },
  csv: { type: 'text/csv; charset=utf-8; header=present', pieces: (rows: Rows) => sampleListCsv(rows) },
  xlsx: { type: XLSX, pieces: (rows: Rows) => sampleListXlsx(rows) },
} as const;
export type ListFormat = keyof typeof LIST_FORMATS;

export const LIST_FORMAT_NAMES = Object.keys(LIST_FORMATS) as ListFormat[];

export const listedRowShape = z
  .record(z.string(), z.string())
  .meta({ id: 'SampleListRow', description: 'One container; `columns` of the list names its members' });

export const listShape = z
  .strictObject({
    columns: z.array(z.string()),
    rows: z.array(listedRowShape),
    trailer: z.strictObject({
      count: z.int().min(0).describe('Of the rows; a list that was cut off does not end with it'),
      sha256: z.string().describe('Of heading and rows as CSV, the same in every format of one list'),
    }),
  })
  .meta({ id: 'SampleList' });

/** The documented answer in one format. */
export function listAnswer(format: ListFormat, json: z.ZodType = listShape) {
  const description = 'Ordered by sample number and label; the end says how many rows there are, and their hash';
  if (format === 'json') return { description, content: { 'application/json': { schema: json } } };
  const type = format === 'csv' ? 'text/csv' : XLSX;
  return { description, content: { [type]: { schema: z.string() } } };
}

/** Sent as the rows are made, so that a list of thousands takes no more memory than one of ten. */
export function sendList(
  reply: FastifyReply,
  list: { readonly format: ListFormat; readonly name: string; readonly rows: Rows; readonly head?: Head },
): FastifyReply {
  const { type, pieces } = LIST_FORMATS[list.format];
  reply.header('content-disposition', `attachment; filename="${list.name}.${list.format}"`);
  reply.header('cache-control', 'private, no-store');
  return reply.type(type).send(Readable.from(pieces(list.rows, list.head ?? {})));
}
