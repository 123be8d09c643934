import type { Context } from '../../../context.ts';
import { readBlankSamples, readSampleTrail } from '../../../reads/unit-questions.ts';
import { blankSamplesInput, blankSamplesOutput } from '../../../rules/equipment-told/blank-told.ts';
import { sampleTrailOutput } from '../../../rules/equipment-told/sample-trail-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['equipment'];

function sampleTrailRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSampleTrail',
    summary: 'From a sample back to the gear that it passed, and where it stands',
    description:
      'Units, soft parts, their decons and equipment blanks, and the wells that they met before. In question, cleared, or ' +
      'cannot be told, with the reason.',
    tags,
    params: idParams,
    response: {
      200: answer('Its trail', sampleTrailOutput.meta({ id: 'SampleTrail' })),
      ...problems('record_missing'),
    },
  };
  api.get('/samples/:id/trail', { schema, config }, async ({ actor, params }) =>
    readSampleTrail(ctx, actor, params.id),
  );
}

function blankSamplesRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getBlankSamples',
    summary: 'The samples behind an equipment blank that failed, by analyte',
    description:
      'Those taken with that unit and the soft parts that were on it, between the last and the next blank that was clean ' +
      'of the analyte: in question, cleared, or cannot be told, each with its reason.',
    tags,
    params: idParams,
    querystring: blankSamplesInput,
    response: {
      200: answer('The samples', blankSamplesOutput.meta({ id: 'BlankSamples' })),
      ...problems('record_missing'),
    },
  };
  api.get('/blanks/:id/samples', { schema, config }, async ({ actor, params, query }) =>
    readBlankSamples(ctx, actor, params.id, query),
  );
}

/** GET /samples/ID/trail and /blanks/ID/samples. */
export function sampleRoutes(api: Api, ctx: Context): void {
  sampleTrailRoute(api, ctx);
  blankSamplesRoute(api, ctx);
}
