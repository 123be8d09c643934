import type { Context } from '../../../context.ts';
import { readChecksOfMeter, readMeterUsable, readVisitMeterChecks } from '../../../reads/meter-questions.ts';
import { checksOfMeterInput, checksOfMeterOutput } from '../../../rules/meter-told/checks-of-meter.ts';
import { visitMeterChecksOutput } from '../../../rules/meter-told/meter-checks-of-visit.ts';
import { meterUsableInput, meterUsableOutput } from '../../../rules/meter-told/meter-usable.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['equipment'];

function usableRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getUnitMayBeUsed',
    summary: 'May this meter be used now?',
    description:
      'Sensor by sensor, from its stored checks, the limits that the plan of the event names, and whether it is in service. No is advice: a reading that is made nevertheless is kept like any other. A phone gives the same answer without a signal.',
    tags,
    params: idParams,
    querystring: meterUsableInput,
    response: {
      200: answer('Whether it may, and why', meterUsableOutput.meta({ id: 'MeterMayBeUsed' })),
      ...problems('record_missing'),
    },
  };
  api.get('/units/:id/may-be-used', { schema, config }, async ({ actor, params, query }) =>
    readMeterUsable(ctx, actor, params.id, { ...query, at: query.at ?? ctx.now().toISOString() }),
  );
}

function checksRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getChecksOfUnit',
    summary: 'The checks of a meter, and the readings that each of them qualifies',
    description:
      'Calibrations and checks in rounds, with the visits whose readings each stands before and after; and of each visit what the checks around it say: covered, waiting for a check after it, or in question with the reason. Clocks of phones that are off are corrected.',
    tags,
    params: idParams,
    querystring: checksOfMeterInput,
    response: {
      200: answer('Its checks and visits', checksOfMeterOutput.meta({ id: 'ChecksOfMeter' })),
      ...problems('record_missing'),
    },
  };
  api.get('/units/:id/checks', { schema, config }, async ({ actor, params, query }) =>
    readChecksOfMeter(ctx, actor, params.id, { ...query, until: query.until ?? ctx.now().toISOString() }),
  );
}

function visitRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getVisitMeterChecks',
    summary: 'Which checks stand before and after the readings of a visit',
    description:
      'Meter by meter and sensor by sensor: how many readings are covered, wait for a check, or are in question, and why.',
    tags,
    params: idParams,
    response: {
      200: answer('Its meters', visitMeterChecksOutput.meta({ id: 'VisitMeterChecks' })),
      ...problems('record_missing'),
    },
  };
  api.get('/visits/:id/meter-checks', { schema, config }, async ({ actor, params }) =>
    readVisitMeterChecks(ctx, actor, params.id),
  );
}

/** GET /units/ID/may-be-used, /units/ID/checks and /visits/ID/meter-checks. */
export function meterRoutes(api: Api, ctx: Context): void {
  usableRoute(api, ctx);
  checksRoute(api, ctx);
  visitRoute(api, ctx);
}
