import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { readEventCalendar } from '../../../reads/deadline-calendar.ts';
import { readEventCompleteness } from '../../../reads/event-completeness.ts';
import { deadlinesInput, deadlinesOutput, readEventDeadlines } from '../../../reads/event-deadlines.ts';
import { readCoolerPacking, readEventMustLeave } from '../../../reads/must-leave.ts';
import { completenessInput, completenessOutput } from '../../../rules/samples/completeness/completeness-told.ts';
import { deadlinesAsked } from '../../../rules/samples/deadlines/deadlines-told.ts';
import { mustLeaveInput, mustLeaveOutput } from '../../../rules/shipping/must-leave-told.ts';
import { packingInput, packingOutput } from '../../../rules/shipping/packing-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['samples'];

function deadlinesRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventDeadlines',
    summary: 'The clocks of the containers of an event, the tightest first',
    description:
      'Each clock of a container with its own deadline: to extraction, from extraction to analysis, to analysis, to ' +
      'preservation and filtration in the field; by elapsed time, with the document or the project that sets it. In parts: ' +
      '`next` goes back as `cursor`.',
    tags,
    params: idParams,
    querystring: deadlinesInput,
    response: {
      200: answer('A part of them', deadlinesOutput.meta({ id: 'EventDeadlines' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/deadlines', { schema, config }, async ({ actor, params, query }) =>
    readEventDeadlines(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

function mustLeaveRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventMustLeave',
    summary: 'What has to leave today so that no clock is missed',
    description:
      'For each cooler, and for what is in none by laboratory: when it is received if it leaves now, by when it has to be ' +
      'handed in, which containers miss a clock if they leave later than today, and which miss one in any case. From the ' +
      'transit, the receiving hours, closed and booked days and the backlog of the laboratory.',
    tags,
    params: idParams,
    querystring: mustLeaveInput,
    response: {
      200: answer('What must leave', mustLeaveOutput.meta({ id: 'EventMustLeave' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/must-leave', { schema, config }, async ({ actor, params, query }) =>
    readEventMustLeave(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

function packingRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getCoolerPacking',
    summary: 'What is said while a cooler is packed',
    description:
      'Its clocks against the next receipt of the laboratory, blanks that go along with what is in it, ice, seals, the ' +
      'number to follow it by, and what to record of one that was kept overnight.',
    tags,
    params: idParams,
    querystring: packingInput,
    response: {
      200: answer('What is said', packingOutput.meta({ id: 'CoolerPacking' })),
      ...problems('record_missing'),
    },
  };
  api.get('/coolers/:id/packing', { schema, config }, async ({ actor, params, query }) =>
    readCoolerPacking(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}

const calendarQuery = z.strictObject({
  cooler: deadlinesAsked.cooler,
  laboratory: deadlinesAsked.laboratory,
  which: deadlinesAsked.which.describe(
    'awaited: what the laboratory has received is struck; running, all: not before it is analysed',
  ),
});

function calendarRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventDeadlineCalendar',
    summary: 'The deadlines of the laboratory as a calendar that can be followed',
    description:
      'iCalendar (RFC 5545). An entry keeps its UID; its SEQUENCE grows with every change of what it follows from. What was ' +
      'analysed is cancelled; what was received is not, since it is still to be analysed.',
    tags,
    params: idParams,
    querystring: calendarQuery,
    response: {
      200: { description: 'The calendar', content: { 'text/calendar': { schema: z.string() } } },
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/deadlines.ics', { schema, config }, async ({ actor, params, query }, reply) => {
    const text = await readEventCalendar(ctx, actor, params.id, query);
    reply.header('cache-control', 'private, no-store');
    reply.header('content-disposition', `inline; filename="event-${params.id}-deadlines.ics"`);
    return reply.type('text/calendar; charset=utf-8; method=PUBLISH').send(text as never);
  });
}

function completenessRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventCompleteness',
    summary: 'What an event was to bring, and what of it was collected, received and reported',
    description:
      'For each well, sample and suite the containers, with what lacks and why: dropped and who agreed, a dry well, broken ' +
      'on the way; and the percentages with what they are of. What was found in a field or trip blank is told with the ' +
      'samples that it questions.',
    tags,
    params: idParams,
    querystring: completenessInput,
    response: {
      200: answer('How complete it is', completenessOutput.meta({ id: 'EventCompleteness' })),
      ...problems('record_missing'),
    },
  };
  api.get('/events/:id/completeness', { schema, config }, async ({ actor, params, query }) =>
    readEventCompleteness(ctx, actor, params.id, query),
  );
}

/** GET /events/ID/deadlines, .../deadlines.ics, .../must-leave and .../completeness; /coolers/ID/packing. */
export function deadlineRoutes(api: Api, ctx: Context): void {
  deadlinesRoute(api, ctx);
  calendarRoute(api, ctx);
  mustLeaveRoute(api, ctx);
  packingRoute(api, ctx);
  completenessRoute(api, ctx);
}
