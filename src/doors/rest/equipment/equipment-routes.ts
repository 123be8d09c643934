import type { Context } from '../../../context.ts';
import { readEventDayPlan } from '../../../reads/day-plan.ts';
import { equipmentStatusInput, equipmentStatusOutput, readEquipmentStatus } from '../../../reads/equipment-status.ts';
import { readOwedEquipment } from '../../../reads/owed-equipment.ts';
import { dayPlanInput, dayPlanOutput } from '../../../rules/equipment-told/day-plan-told.ts';
import { owedInput, owedOutput } from '../../../rules/equipment-told/owed-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['equipment'];

function statusRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEquipmentStatus',
    summary: 'Units with where they stand and who has them',
    description:
      'For a screen on the wall: all units of the firm, or those of an event. In parts: `next` goes back as `cursor`.',
    tags,
    querystring: equipmentStatusInput,
    response: {
      200: answer('A part of the units', equipmentStatusOutput.meta({ id: 'EquipmentStatus' })),
      ...problems('record_missing'),
    },
  };
  api.get('/equipment-status', { schema, config }, async ({ actor, query }) => readEquipmentStatus(ctx, actor, query));
}

function owedRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getOwedEquipment',
    summary: 'What the equipment of an event still owes tonight',
    description:
      'Units left uncleaned, equipment blanks and closing checks of meters that are missing, tape checks and services that ' +
      'are overdue, as if the day were over now; the flags wait until the records say that it is.',
    tags,
    params: idParams,
    querystring: owedInput,
    response: {
      200: answer('What is owed', owedOutput.meta({ id: 'OwedEquipment' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/owed-equipment', { schema, config }, async ({ actor, params, query }) =>
    readOwedEquipment(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

function dayPlanRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventDayPlan',
    summary: 'The day of a crew: its wells from the least to the most contaminated',
    description:
      'By the last results of each well before the day, or the class that the office gave it; with the shared units taken ' +
      'into account, the decons between the wells, and where the crew went from dirty to clean so far. A proposal: nobody is ' +
      'kept from another order.',
    tags,
    params: idParams,
    querystring: dayPlanInput,
    response: {
      200: answer('The plan', dayPlanOutput.meta({ id: 'EventDayPlan' })),
      ...problems('record_missing', 'bad_request'),
    },
  };
  api.get('/events/:id/day-plan', { schema, config }, async ({ actor, params, query }) =>
    readEventDayPlan(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

/** GET /equipment-status, /events/ID/owed-equipment and /events/ID/day-plan. */
export function equipmentRoutes(api: Api, ctx: Context): void {
  statusRoute(api, ctx);
  owedRoute(api, ctx);
  dayPlanRoute(api, ctx);
}
