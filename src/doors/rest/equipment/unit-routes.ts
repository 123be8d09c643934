import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { toldPageInput } from '../../../reads/told-page.ts';
import { unitSpansPage, unitTimelinePage } from '../../../reads/unit-pages.ts';
import { unitPictureInput } from '../../../reads/unit-picture.ts';
import {
  readUnitPicture,
  readUnitState,
  readUnitStates,
  readUnitTimeline,
  readUnitTrail,
} from '../../../reads/unit-questions.ts';
import { unitStateOutput } from '../../../rules/equipment-told/unit-state-told.ts';
import { unitTrailInput, unitTrailOutput } from '../../../rules/equipment-told/unit-trail-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['equipment'];
const PARTS =
  'In parts: `next` goes back as `cursor`. What lies in events that you do not follow is counted and not told.';

/** Sent as text: the answer is typed by the compiler, and a long one would take as long to check as to find. */
function send(reply: FastifyReply, told: unknown) {
  return reply.type('application/json').send(JSON.stringify(told)) as never;
}

function stateRoutes(api: Api, ctx: Context): void {
  const now = {
    operationId: 'getStateOfUnit',
    summary: 'Where a unit stands, and the record that put it there',
    description: 'Derived from everything that is recorded of it, in whatever order that arrived.',
    tags,
    params: idParams,
    response: {
      200: answer('Its state', unitStateOutput.nullable().meta({ id: 'UnitStateNow' })),
      ...problems('record_missing'),
    },
  };
  api.get('/units/:id/state', { schema: now, config }, async ({ actor, params }) =>
    readUnitState(ctx, actor, params.id),
  );
  const every = {
    operationId: 'getStatesOfUnit',
    summary: 'Every state that a unit went through, the present one first',
    description: 'In parts: `next` goes back as `cursor`.',
    tags,
    params: idParams,
    querystring: toldPageInput,
    response: { 200: answer('Its states', unitSpansPage.meta({ id: 'UnitStates' })), ...problems('record_missing') },
  };
  api.get('/units/:id/states', { schema: every, config }, async ({ actor, params, query }, reply) =>
    send(reply, await readUnitStates(ctx, actor, params.id, query)),
  );
}

function timelineRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getUnitTimeline',
    summary: 'What happened to a unit, the latest first',
    description: `Wells, decons, soft parts, services, equipment blanks and the crews that had it. ${PARTS}`,
    tags,
    params: idParams,
    querystring: toldPageInput,
    response: {
      200: answer('A part of it', unitTimelinePage.meta({ id: 'UnitTimeline' })),
      ...problems('record_missing'),
    },
  };
  api.get('/units/:id/timeline', { schema, config }, async ({ actor, params, query }, reply) =>
    send(reply, await readUnitTimeline(ctx, actor, params.id, query)),
  );
}

function trailRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getUnitTrail',
    summary: 'Every well, decon, soft part, equipment blank and sample that a unit touched',
    description:
      'And where it came into a well with the water of another on it, with the samples that are in question for it or ' +
      'cleared, each with its reason. Each list earliest first; of long ones the latest thousand.',
    tags,
    params: idParams,
    querystring: unitTrailInput,
    response: { 200: answer('Its trail', unitTrailOutput.meta({ id: 'UnitTrail' })), ...problems('record_missing') },
  };
  api.get('/units/:id/trail', { schema, config }, async ({ actor, params, query }, reply) =>
    send(reply, await readUnitTrail(ctx, actor, params.id, query)),
  );
}

/** A browser that is shown what somebody typed is told to run none of it, whatever stands in there. */
const AS_A_PICTURE = "default-src 'none'; style-src 'unsafe-inline'; sandbox";

function pictureRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getUnitTimelinePicture',
    summary: 'The life of a unit as a picture',
    description:
      'SVG: its states, wells, decons, equipment blanks, soft parts, services and crews over time, in the zone of the site ' +
      'where it was last. What lies in events that you do not follow is not drawn.',
    tags,
    params: idParams,
    querystring: unitPictureInput,
    response: {
      200: { description: 'The picture', content: { 'image/svg+xml': { schema: z.string() } } },
      ...problems('record_missing'),
    },
  };
  api.get('/units/:id/timeline.svg', { schema, config }, async ({ actor, params, query }, reply) => {
    const svg = await readUnitPicture(ctx, actor, params.id, query);
    reply.header('content-security-policy', AS_A_PICTURE).header('cache-control', 'private, no-store');
    return reply.type('image/svg+xml; charset=utf-8').send(svg as never);
  });
}

/** GET /units/ID/state, /states, /timeline, /timeline.svg and /trail. */
export function unitRoutes(api: Api, ctx: Context): void {
  stateRoutes(api, ctx);
  timelineRoute(api, ctx);
  pictureRoute(api, ctx);
  trailRoute(api, ctx);
}
