import type { Context } from '../../../context.ts';
import { readFillOrder, readShortWater } from '../../../reads/visit-fills.ts';
import { fillOrderInput, fillOrderOutput } from '../../../rules/samples/fill-order/fill-order-told.ts';
import { shortWaterInput, shortWaterOutput } from '../../../rules/samples/short-water/short-water-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['question'];

/** GET /visits/ID/fill-order and GET /visits/ID/short-water. */
export function fillRoutes(api: Api, ctx: Context): void {
  const order = {
    operationId: 'getVisitFillOrder',
    summary: 'The containers of a visit in the order to fill, and which is next',
    description:
      'Of its samples, and of what is planned at its well: container by container what is done, which is next, how long each takes at the present rate, its limit of rate, whether it is filtered, and what is in it. From the order that the plan of the event names.',
    tags,
    params: idParams,
    querystring: fillOrderInput,
    response: {
      200: answer('In the order to fill', fillOrderOutput.meta({ id: 'FillOrder' })),
      ...problems('record_missing'),
    },
  };
  api.get('/visits/:id/fill-order', { schema: order, config }, async ({ actor, params, query }) =>
    readFillOrder(ctx, actor, params.id, query),
  );
  const short = {
    operationId: 'getVisitShortWater',
    summary: 'With so much water left, which containers of a visit are filled and which are dropped',
    description:
      'Of those that wait, in the order of their priority: the least number and volume that give a result first, then the rest. Nothing is dropped without whoever ordered it; nothing is stored by asking.',
    tags,
    params: idParams,
    querystring: shortWaterInput,
    response: {
      200: answer('What is filled, and what is dropped', shortWaterOutput.meta({ id: 'ShortWater' })),
      ...problems('record_missing'),
    },
  };
  api.get('/visits/:id/short-water', { schema: short, config }, async ({ actor, params, query }) =>
    readShortWater(ctx, actor, params.id, query),
  );
}
