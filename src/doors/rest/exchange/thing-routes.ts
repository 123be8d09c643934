import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { THING_SETS, thingsAsked } from '../../../reads/exchange/thing-asked.ts';
import { readThings } from '../../../reads/exchange/things.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { count } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['exchange'];
const path = z.string().min(1).max(200);

const thing = z.looseObject({ '@iot.id': z.string(), '@iot.selfLink': z.string() });
const told = z
  .union([
    thing,
    z.strictObject({ '@iot.count': count.optional(), value: z.array(thing), '@iot.nextLink': z.string().optional() }),
  ])
  .meta({ id: 'SensorThings', description: 'An entity, or a part of a set' });

const root = z
  .strictObject({
    value: z.array(z.strictObject({ name: z.string(), url: z.string() })),
    serverSettings: z.strictObject({
      conformance: z
        .array(z.string())
        .describe('Empty: a part of the standard is there, and none of its classes whole'),
    }),
  })
  .meta({ id: 'SensorThingsRoot' });

function baseOf({ protocol, host }: FastifyRequest): string {
  return `${protocol}://${host}/v1/sensor-things`;
}

const ABOUT =
  'In the shape of OGC SensorThings API 1.1 (18-088), read alone: wells are things, with two series of water levels, the ' +
  'depth and the elevation. With $top, $skip and $count; other options are refused.';

function rootRoute(api: Api): void {
  const schema = {
    operationId: 'getSensorThings',
    summary: 'The sets of wells and levels as OGC SensorThings tells them',
    description: ABOUT,
    tags,
    response: { 200: answer('The sets', root), ...problems() },
  };
  api.get('/sensor-things', { schema, config }, async (request) => ({
    value: THING_SETS.map((name) => ({ name, url: `${baseOf(request as FastifyRequest)}/${name}` })),
    serverSettings: { conformance: [] },
  }));
}

function entityRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSensorThingsEntities',
    summary: 'A set of things, or one of it',
    description: `${ABOUT} Such as Things, or Datastreams('ID').`,
    tags,
    params: z.strictObject({ entity: path.describe("Things, or Things('ID')") }),
    querystring: thingsAsked,
    response: { 200: answer('The entities', told), ...problems('not_found') },
  };
  api.get('/sensor-things/:entity', { schema, config }, async (request, reply) => {
    const address = { base: baseOf(request as FastifyRequest), path: request.params.entity, link: null };
    const text = await readThings(ctx, request.actor, address, request.query);
    return reply.type('application/json').send(text as never);
  });
}

function linkRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSensorThingsLinked',
    summary: 'What a link of a thing leads to',
    description: `${ABOUT} Such as Things('ID')/Datastreams.`,
    tags,
    params: z.strictObject({ entity: path.describe("Things('ID')"), link: path.describe('Such as Datastreams') }),
    querystring: thingsAsked,
    response: { 200: answer('The entities', told), ...problems('not_found') },
  };
  api.get('/sensor-things/:entity/:link', { schema, config }, async (request, reply) => {
    const { entity, link } = request.params;
    const address = { base: baseOf(request as FastifyRequest), path: entity, link };
    const text = await readThings(ctx, request.actor, address, request.query);
    return reply.type('application/json').send(text as never);
  });
}

/** GET /sensor-things and below it. */
export function thingRoutes(api: Api, ctx: Context): void {
  rootRoute(api);
  entityRoute(api, ctx);
  linkRoute(api, ctx);
}
