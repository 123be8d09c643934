import { z } from 'zod';
import type { Context } from '../../context.ts';
import { decimal, id } from '../../protocol/primitives.ts';
import { purgeForecast } from '../../reads/purge-forecast.ts';
import { levelForecastShape } from '../../rules/forecast/level-shape.ts';
import { DEFAULT_HORIZON_MIN, LONGEST_HORIZON_MIN } from '../../rules/forecast/readings-to-come.ts';
import { stabilizationForecastShape } from '../../rules/forecast/stabilization-shape.ts';
import { seededUniform } from '../../science/forecast/seeded-uniform.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { idParams } from './list-shapes.ts';
import { answer, problems } from './problem-docs.ts';

const query = z.strictObject({
  withinMin: z.coerce
    .number()
    .int()
    .min(1)
    .max(LONGEST_HORIZON_MIN)
    .default(DEFAULT_HORIZON_MIN)
    .describe('How far to look ahead, in minutes after the latest reading'),
  marginFt: decimal.default('0').describe('How far above the top of the screen and the intake one wants to stop'),
});

const refused = z.string().nullable().describe('Why nothing is foreseen; null where something is');

const purgeForecastShape = z
  .strictObject({
    purge: id,
    criteria: z.string(),
    latestReadingAt: z.string().nullable().describe('As entered; the minutes are counted from it'),
    stabilization: z.strictObject({ ...stabilizationForecastShape, refused }),
    levels: z.strictObject({ ...levelForecastShape, refused }),
    advice: z.array(z.string()).describe('Of the assessment: what probably keeps the water from being stable'),
    cautions: z.array(z.string()),
    sources: z.array(z.string()),
  })
  .meta({ id: 'PurgeForecast', description: 'How a running purge will go on, if it goes on as it did' });

/** So that asking again says the same until something new is recorded. */
const SEED = 1;

/** GET /purges/ID/forecast. */
export function purgeForecastRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getPurgeForecast',
    summary: 'How a running purge will go on',
    description:
      'When each parameter will meet its criterion, and when the water will be at the top of the screen or at the intake, each with its uncertainty, or why it cannot be told. Made from the stored records; nothing is stored.',
    tags: ['question'],
    params: idParams,
    querystring: query,
    response: { 200: answer('What is foreseen', purgeForecastShape), ...problems('record_missing') },
  };
  api.get('/purges/:id/forecast', { schema, config: { access: EVERY_ROLE } }, async (request) => {
    const { withinMin, marginFt } = request.query;
    const options = { horizonMin: withinMin, marginFt, uniform: seededUniform(SEED) };
    return purgeForecast(ctx.pool, request.actor, request.params.id, options);
  });
}
