import type { FastifyInstance } from 'fastify';
import { serializerCompiler } from 'fastify-type-provider-zod';
import type { Context } from '../../context.ts';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import type { TokenMemory } from '../authenticate.ts';
import { enrolmentRoutes } from './access/enrolment-routes.ts';
import { meRoutes } from './access/me-routes.ts';
import { rehomeRoute } from './access/rehome-route.ts';
import { tokenRoutes } from './access/token-routes.ts';
import type { Api } from './api.ts';
import { catalogueRoutes } from './catalogue-routes.ts';
import { equipmentRoutes } from './equipment/equipment-routes.ts';
import { kitRoute } from './equipment/kit-route.ts';
import { meterRoutes } from './equipment/meter-routes.ts';
import { setUpPlanRoute } from './equipment/set-up-plan-route.ts';
import { unitRoutes } from './equipment/unit-routes.ts';
import { eventStatusRoute } from './event-status.ts';
import { geoRoutes } from './exchange/geo-routes.ts';
import { thingRoutes } from './exchange/thing-routes.ts';
import { wqxRoutes } from './exchange/wqx-routes.ts';
import { healthRoutes } from './health-routes.ts';
import { visitHistoryRoute } from './history-export-routes.ts';
import { readJsonBodies } from './json-body.ts';
import { clashesWithManner, WRITABLE_KINDS } from './kind-shapes.ts';
import { discrepancyRoutes } from './laboratory/discrepancy-routes.ts';
import { receiptRoutes } from './laboratory/receipt-routes.ts';
import { resultsCsvRoutes } from './laboratory/results-csv-routes.ts';
import { sampleListRoutes } from './laboratory/sample-list-routes.ts';
import { questionRoutes } from './question-routes.ts';
import { limitRate } from './rate-limit.ts';
import { readRoutes } from './read-routes.ts';
import { recordRoutes } from './record-routes.ts';
import { referencePage } from './reference-page.ts';
import { resolveRoute } from './resolve-route.ts';
import { custodyRoutes } from './samples/custody-routes.ts';
import { deadlineRoutes } from './samples/deadline-routes.ts';
import { fillRoutes } from './samples/fill-routes.ts';
import { sampleRoutes } from './samples/sample-routes.ts';
import { samplingPlanRoutes } from './samples/sampling-plan-routes.ts';
import { setAsideRoutes } from './set-aside-routes.ts';
import { tradeCatalogRoutes } from './trade-catalog-routes.ts';
import { tradeQuestionRoutes } from './trade-question-routes.ts';
import { validatorCompiler } from './validate.ts';
import { purgeForecastRoute } from './wells/purge-forecast-route.ts';
import { wellRoundRoutes } from './wells/well-round-routes.ts';

function kindRoutes(api: Api, ctx: Context): void {
  for (const kind of KINDS) readRoutes(api, ctx, kind);
  for (const kind of WRITABLE_KINDS) {
    const clash = clashesWithManner(kind);
    if (clash.length > 0)
      throw new Error(`the fields ${clash.join(', ')} of ${kind.name} mean something else in a body`);
    recordRoutes(api, ctx, kind);
  }
  rehomeRoute(api, ctx);
  resolveRoute(api, ctx);
  visitHistoryRoute(api, ctx);
}

function documentRoute(api: Api): void {
  let text: string | undefined;
  api.get('/openapi.json', { config: { access: 'open' } }, async (_request, reply) => {
    text ??= JSON.stringify(api.swagger());
    return reply.type('application/json').send(text);
  });
}

export interface RestOptions {
  readonly ctx: Context;
  readonly memory: TokenMemory;
  readonly requestsPerMinute: number;
}

function v1Routes(api: Api, ctx: Context, memory: TokenMemory): void {
  kindRoutes(api, ctx);
  setAsideRoutes(api, ctx);
  meRoutes(api, ctx, memory);
  tokenRoutes(api, ctx, memory);
  enrolmentRoutes(api, ctx, memory);
  catalogueRoutes(api);
  tradeCatalogRoutes(api);
  questionRoutes(api, ctx);
  eventStatusRoute(api, ctx);
  purgeForecastRoute(api, ctx);
  wellRoundRoutes(api, ctx);
  unitRoutes(api, ctx);
  meterRoutes(api, ctx);
  kitRoute(api, ctx);
  fillRoutes(api, ctx);
  sampleRoutes(api, ctx);
  custodyRoutes(api, ctx);
  sampleListRoutes(api, ctx);
  receiptRoutes(api, ctx);
  discrepancyRoutes(api, ctx);
  resultsCsvRoutes(api, ctx);
  samplingPlanRoutes(api, ctx);
  deadlineRoutes(api, ctx);
  geoRoutes(api, ctx);
  wqxRoutes(api, ctx);
  thingRoutes(api, ctx);
  equipmentRoutes(api, ctx);
  tradeQuestionRoutes(api);
  setUpPlanRoute(api, ctx);
  documentRoute(api);
}

/** The REST door: an instance of its own, since its compilers speak zod and those of others do not. */
export function restDoor(app: FastifyInstance, options: RestOptions, done: () => void): void {
  const { ctx, memory, requestsPerMinute } = options;
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  readJsonBodies(app);
  limitRate(app, requestsPerMinute);
  void app.register(referencePage);
  // within a plugin, so that the limit above is in place before the first route
  void app.register((routes, _none, ready) => {
    healthRoutes(routes.withTypeProvider() as Api, ctx);
    ready();
  });
  void app.register(
    (routes, _none, ready) => {
      v1Routes(routes.withTypeProvider() as Api, ctx, memory);
      ready();
    },
    { prefix: '/v1' },
  );
  done();
}
