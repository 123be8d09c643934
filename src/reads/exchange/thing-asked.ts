import { z } from 'zod';
import { id } from '../../protocol/primitives.ts';
import { Problem } from '../../protocol/problem.ts';

export const THING_SETS = [
  'Things',
  'Locations',
  'HistoricalLocations',
  'Datastreams',
  'Sensors',
  'ObservedProperties',
  'Observations',
  'FeaturesOfInterest',
] as const;
export type ThingSet = (typeof THING_SETS)[number];

/** Where a link of an entity leads. */
export const THING_LINKS: Readonly<Record<ThingSet, readonly string[]>> = {
  Things: ['Datastreams', 'Locations', 'HistoricalLocations'],
  Locations: ['Things', 'HistoricalLocations'],
  HistoricalLocations: [],
  Datastreams: ['Thing', 'Sensor', 'ObservedProperty', 'Observations'],
  Sensors: ['Datastreams'],
  ObservedProperties: ['Datastreams'],
  Observations: ['Datastream', 'FeatureOfInterest'],
  FeaturesOfInterest: ['Observations'],
};

const MOST = 1_000;

/** OGC 18-088, 9.3; what is not here is refused, so that nobody takes all for a part. */
export const thingsAsked = z.strictObject({
  $top: z.coerce.number().int().min(0).max(MOST).default(100).describe('How many'),
  $skip: z.coerce.number().int().min(0).max(10_000_000).default(0).describe('After how many'),
  $count: z.enum(['true', 'false']).default('false').describe('Whether to say how many there are'),
});
export type ThingsAsked = z.output<typeof thingsAsked>;

/** A set, or an entity of it. */
export interface ThingPath {
  readonly set: ThingSet;
  readonly key: string | null;
}

function notThere(text: string): Problem {
  return new Problem('not_found', `${JSON.stringify(text.slice(0, 80))} is no set or entity: ${THING_SETS.join(', ')}`);
}

/** @throws Problem `not_found` for what is neither "Things" nor "Things('ID')" */
export function readThingPath(text: string): ThingPath {
  const [, name = '', quoted] = /^([A-Za-z]+)(?:\('((?:[^']|'')*)'\))?$/.exec(text) ?? [];
  const set = THING_SETS.find((one) => one === name);
  if (!set) throw notThere(text);
  return { set, key: quoted === undefined ? null : quoted.replaceAll("''", "'") };
}

/** Which level quantity of what an id means: "ID" is the depth of the level, or of the well; "ID.elevation" its elevation. */
export interface OfQuantity {
  readonly id: string;
  readonly quantity: 'depthToWaterFt' | 'waterElevationFt';
}

const ELEVATION = '.elevation';

export function keyOf({ id: of, quantity }: OfQuantity): string {
  return quantity === 'depthToWaterFt' ? of : `${of}${ELEVATION}`;
}

/** Null for what is no such key. */
export function readKey(key: string): OfQuantity | null {
  const isElevation = key.endsWith(ELEVATION);
  const of = isElevation ? key.slice(0, -ELEVATION.length) : key;
  if (!id.safeParse(of).success) return null;
  return { id: of, quantity: isElevation ? 'waterElevationFt' : 'depthToWaterFt' };
}
