import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { LIMITS } from '../../../protocol/limits.ts';
import { id } from '../../../protocol/primitives.ts';
import { Problem } from '../../../protocol/problem.ts';
import { RESULT_COLUMNS } from '../../../rules/laboratory/results/result-columns.ts';
import { LABORATORY } from '../../authenticate.ts';
import { readCsvFile } from '../../read-csv-file.ts';
import { type ResultsGiven, takeResults } from '../../take-results.ts';
import { type Api, WRITERS } from '../api.ts';
import { changeHeaders } from '../change.ts';
import { count, idParams } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const tags = ['laboratory'];

const flag = z
  .enum(['true', 'false'])
  .default('false')
  .transform((given) => given === 'true');
const query = z.strictObject({
  check: flag.describe('Only judge it: every problem of every line is answered, and nothing is written'),
  partial: flag.describe('Take the lines that can be taken. Default: all or nothing'),
});
const officeQuery = query.extend({
  laboratory: id.optional().describe('Whose report it is'),
  typedBy: id.optional().describe('The member who hands it in. Default: whoever is at the device of the token'),
});

const place = {
  line: z.int().min(1).describe('As an editor counts; the heading is 1'),
  column: z.string().nullable(),
  given: z.string().nullable(),
};
const taken = z
  .strictObject({
    written: z.boolean(),
    lines: count.describe('Without the heading'),
    results: count.describe('New ones: written, or that would be'),
    alreadyThere: count.describe('Lines that say what is on record already'),
    problems: z.array(z.strictObject({ ...place, problem: z.string(), toDo: z.string() })),
    notes: z.array(z.strictObject({ ...place, note: z.string() })).describe('Taken, and worth a look'),
  })
  .meta({ id: 'ResultsTaken' });

const columns = Object.entries(RESULT_COLUMNS).map(([name, what]) => `\`${name}\` (${what})`);

/** Its bytes are read by the route. */
const csvFile = z.custom<Buffer>().meta({ type: 'string', description: 'CSV in UTF-8' });

const DESCRIPTION = `A CSV file with a heading; columns: ${columns.join('; ')}. Of commas, semicolons or tabs. A result is told apart by sample, analyte, method and fraction: a file that comes again adds nothing, and another value of the same is a problem and never a correction. At most ${LIMITS.resultsLines} lines.`;

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function textOf(body: unknown): string {
  if (!Buffer.isBuffer(body)) throw new Problem('unsupported_media', 'this address takes text/csv, in UTF-8');
  try {
    return utf8.decode(body);
  } catch {
    throw new Problem('unreadable_text', 'the file is not UTF-8: save it as "CSV UTF-8"');
  }
}

type Asked = Omit<ResultsGiven, 'file'>;

async function take(ctx: Context, { actor, body }: FastifyRequest, reply: FastifyReply, asked: Asked) {
  const told = await takeResults(ctx, actor, { ...asked, file: readCsvFile(textOf(body)) });
  return reply.code(told.written ? 201 : 200).send({ ...told, problems: [...told.problems], notes: [...told.notes] });
}

function routes(api: Api, ctx: Context): void {
  const own = {
    operationId: 'takeLaboratoryResults',
    summary: 'Hand in results as CSV',
    description: DESCRIPTION,
    tags,
    params: idParams,
    headers: changeHeaders,
    querystring: query,
    consumes: ['text/csv'],
    body: csvFile,
    response: {
      200: answer('Judged, and nothing written', taken),
      201: answer('Written', taken),
      ...problems(...BODY_CODES, 'record_missing'),
    },
  };
  const bodyLimit = LIMITS.resultsBytes;
  const address = '/laboratory/events/:id/results.csv';
  api.post(address, { schema: own, bodyLimit, config: { access: LABORATORY } }, (request, reply) =>
    take(ctx, request, reply, { event: request.params.id, ...request.query }),
  );
  const office = {
    ...own,
    operationId: 'takeResultsOfLaboratory',
    summary: 'Take in the results of a laboratory as CSV',
    querystring: officeQuery,
  };
  api.post('/events/:id/results.csv', { schema: office, bodyLimit, config: { access: WRITERS } }, (request, reply) =>
    take(ctx, request, reply, { event: request.params.id, ...request.query }),
  );
}

/** POST /laboratory/events/ID/results.csv and POST /events/ID/results.csv, the only addresses here that take CSV. */
export function resultsCsvRoutes(api: Api, ctx: Context): void {
  void api.register((scope, _none, ready) => {
    scope.addContentTypeParser('text/csv', { parseAs: 'buffer' }, (_request, payload, done) => done(null, payload));
    routes(scope.withTypeProvider() as Api, ctx);
    ready();
  });
}
