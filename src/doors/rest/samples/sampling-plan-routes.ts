import { randomInt } from 'node:crypto';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { readOwedQc, readSamplingPlan } from '../../../reads/sampling-plan.ts';
import { owedQcInput, owedQcOutput } from '../../../rules/sampling-plan/owed-qc-told.ts';
import { samplingPlanOutput } from '../../../rules/sampling-plan/plan-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import { planSamples } from '../../plan-samples.ts';
import { type Api, OFFICE } from '../api.ts';
import { changeHeaders, keyOf } from '../change.ts';
import { idParams } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const tags = ['samples'];
const MOST = 2 ** 47;

const writtenOutput = z
  .strictObject({
    written: z.int().min(0).describe('Records added or changed under this Idempotency-Key, now or before'),
    plan: samplingPlanOutput,
  })
  .meta({ id: 'SamplingPlanWritten' });

function proposalRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSamplingPlan',
    summary: 'The samples that the plan of an event asks for, and what writing it would change',
    description:
      'From the plan of the event, its assignments and the analyte suites: samples with their containers, QC samples by their ' +
      'frequencies, blanks, expected coolers and the bottle order for each laboratory. What is there keeps its number; what ' +
      'no longer applies is dropped with a reason. Numbers of new samples are drawn when the plan is written.',
    tags,
    params: idParams,
    response: {
      200: answer('The proposal', samplingPlanOutput.meta({ id: 'SamplingPlan' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/sampling-plan', { schema, config: { access: EVERY_ROLE } }, async ({ actor, params }) =>
    readSamplingPlan(ctx, actor, params.id),
  );
}

function planRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'writeSamplingPlan',
    summary: 'Plan the samples of an event: writes the proposal as planned samples and containers',
    description:
      'In batches through the write door. Asked again, with or without the same Idempotency-Key, it goes on where it was cut ' +
      'short and plans nothing twice. A blind duplicate has a number like any other; its time as told to the laboratory is ' +
      'left to when its cooler is packed.',
    tags,
    params: idParams,
    headers: changeHeaders,
    body: z.strictObject({}).nullish().describe('Nothing is given'),
    response: {
      200: answer('As it stands now', writtenOutput),
      ...problems(...BODY_CODES, 'record_missing', 'key_reused', 'database_refused'),
    },
  };
  api.post('/events/:id/sampling-plan', { schema, config: { access: OFFICE } }, async (request, reply) => {
    const chance = () => randomInt(MOST) / MOST;
    const { written, repeated, plan } = await planSamples(
      ctx,
      request.actor,
      keyOf(request),
      request.params.id,
      chance,
    );
    if (repeated) reply.header('idempotent-replay', 'true');
    return { written, plan };
  });
}

function owedRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getOwedQc',
    summary: 'What QC an event still owes, and which of the wells that are left suit',
    description:
      'By the samples taken so far: duplicates, matrix spikes, splits and blanks, done and owed. Wells come with the reasons ' +
      'for and against them: likely detections, water, what is planned, and how the crews share.',
    tags,
    params: idParams,
    querystring: owedQcInput,
    response: {
      200: answer('What is owed', owedQcOutput.meta({ id: 'OwedQc' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/owed-qc', { schema, config: { access: EVERY_ROLE } }, async ({ actor, params, query }) =>
    readOwedQc(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

/** GET and POST /events/ID/sampling-plan, GET /events/ID/owed-qc. */
export function samplingPlanRoutes(api: Api, ctx: Context): void {
  proposalRoute(api, ctx);
  planRoute(api, ctx);
  owedRoute(api, ctx);
}
