import { Readable } from 'node:stream';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { levelsGeoJson, wellsGeoJson } from '../../../documents/geo/geo-json.ts';
import { geoWell, readSiteMap, siteLevels } from '../../../reads/exchange/site-map.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const TYPE = 'application/geo+json; charset=utf-8';

const point = z.strictObject({ type: z.literal('Point'), coordinates: z.array(z.number()).length(2) });
/** RFC 7946, sections 3.2 and 3.3. */
const features = z
  .strictObject({
    type: z.literal('FeatureCollection'),
    features: z.array(
      z.strictObject({
        type: z.literal('Feature'),
        id: z.string(),
        geometry: point.nullable().describe('Null where no place in WGS 84 is recorded; the properties say why'),
        properties: z.record(z.string(), z.unknown()).describe('Measured values are decimal text'),
      }),
    ),
  })
  .meta({ id: 'FeatureCollection' });

const answers = {
  200: { description: 'GeoJSON (RFC 7946)', content: { 'application/geo+json': { schema: features } } },
  ...problems('record_missing'),
};

function wellsRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSiteWellsOnMap',
    summary: 'The wells of a site as GeoJSON',
    description: 'With their construction and the elevation of the measuring point that counts now.',
    tags: ['exchange'],
    params: idParams,
    response: answers,
  };
  api.get('/sites/:id/wells.geojson', { schema, config }, async ({ actor, params }, reply) => {
    const { map } = await readSiteMap(ctx, actor, params.id);
    const now = ctx.now().toISOString();
    const text = wellsGeoJson(map.wells.map((well) => geoWell(map, well, now)));
    return reply.type(TYPE).send(Readable.from(text) as never);
  });
}

function levelsRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getSiteLevelsOnMap',
    summary: 'The water levels of a site as GeoJSON',
    description:
      'Each at the place of its well, with its elevation where that of the measuring point is known; of the events that ' +
      'you follow, event by event. Sent as it is read.',
    tags: ['exchange'],
    params: idParams,
    response: answers,
  };
  api.get('/sites/:id/levels.geojson', { schema, config }, async ({ actor, params }, reply) => {
    const asked = await readSiteMap(ctx, actor, params.id);
    const text = levelsGeoJson(siteLevels(ctx, actor, asked, ctx.now().toISOString()));
    return reply.type(TYPE).send(Readable.from(text) as never);
  });
}

/** GET /sites/ID/wells.geojson and /sites/ID/levels.geojson. */
export function geoRoutes(api: Api, ctx: Context): void {
  wellsRoute(api, ctx);
  levelsRoute(api, ctx);
}
