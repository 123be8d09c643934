import type { Context } from '../../../context.ts';
import { readPurgeForecast } from '../../../reads/purge-forecast.ts';
import { purgeForecastInput, purgeForecastOutput } from '../../../rules/forecast/purge-forecast-shape.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const purgeForecastShape = purgeForecastOutput.meta({
  id: 'PurgeForecast',
  description: 'How a running purge will go on, if it goes on as it did',
});

/** GET /purges/ID/forecast. */
export function purgeForecastRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getPurgeForecast',
    summary: 'How a running purge will go on',
    description:
      'When each parameter will meet its criterion, and when the water will be at the top of the screen or at the intake, each with its uncertainty, or why it cannot be told. Made from the stored records; nothing is stored.',
    tags: ['question'],
    params: idParams,
    querystring: purgeForecastInput,
    response: { 200: answer('What is foreseen', purgeForecastShape), ...problems('record_missing') },
  };
  api.get('/purges/:id/forecast', { schema, config: { access: EVERY_ROLE } }, async ({ actor, params, query }) =>
    readPurgeForecast(ctx.pool, actor, params.id, query),
  );
}
