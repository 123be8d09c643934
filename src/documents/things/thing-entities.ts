import { placeOfWell } from '../geo/place-of-well.ts';
import { entityHead, entityLink, figureJson, openObject } from './entity-json.ts';
import { SERIES_QUANTITIES } from './series-quantities.ts';
import type { ThingObservation, ThingSeries, WellThing } from './thing-facts.ts';
import { MEASUREMENT, UCUM } from './well-things.ts';

/** A well without its series, which stand behind links. */
export type ThingWell = Omit<WellThing, 'series'>;
export type LevelQuantity = 'depthToWaterFt' | 'waterElevationFt';

/** What a level is measured with; which tape it was, the observation does not tell. */
export const LEVEL_SENSOR: ThingSeries['sensor'] = {
  id: 'water-level-tape',
  name: 'Water level tape',
  description: 'Electric tape, read by a person at the measuring point of the well',
};

const SENSOR_OF_ELEVATION = 'The elevation of the measuring point less the depth that the tape gave';

function links(base: string, set: string, id: string, names: readonly string[]): Readonly<Record<string, string>> {
  const self = entityLink(base, set, id);
  return Object.fromEntries(names.map((name) => [`${name}@iot.navigationLink`, `${self}/${name}`]));
}

/** A well. OGC 18-088, 8.2.1. */
export function thingJson(base: string, well: ThingWell): string {
  const { geometry: _geometry, ...why } = placeOfWell(well);
  return JSON.stringify({
    ...entityHead(base, 'Things', well.id),
    name: well.name,
    description: well.description ?? 'Monitoring well',
    properties: { ...well.properties, ...why },
    ...links(base, 'Things', well.id, ['Datastreams', 'Locations', 'HistoricalLocations']),
  });
}

/** Where a well is; null where no place in WGS 84 is recorded. OGC 18-088, 8.2.2. */
export function locationJson(base: string, well: ThingWell): string | null {
  const { geometry } = placeOfWell(well);
  if (geometry === null) return null;
  return JSON.stringify({
    ...entityHead(base, 'Locations', well.id),
    name: well.name,
    description: `Where ${well.name} is`,
    encodingType: 'application/geo+json',
    location: geometry,
    ...links(base, 'Locations', well.id, ['Things', 'HistoricalLocations']),
  });
}

/** What an observation is of: the water in the well. OGC 18-088, 8.2.8. */
export function featureJson(base: string, well: ThingWell): string {
  const { geometry, ...why } = placeOfWell(well);
  return JSON.stringify({
    ...entityHead(base, 'FeaturesOfInterest', well.id),
    name: `Groundwater in ${well.name}`,
    description: `The water that stands in ${well.name}`,
    encodingType: 'application/geo+json',
    feature: { type: 'Feature', geometry, properties: why },
    ...links(base, 'FeaturesOfInterest', well.id, ['Observations']),
  });
}

/** A series of one well. OGC 18-088, 8.2.4. */
export function datastreamJson(base: string, id: string, well: ThingWell, quantity: LevelQuantity): string {
  const { property, description, unitName, ucum } = SERIES_QUANTITIES[quantity];
  return JSON.stringify({
    ...entityHead(base, 'Datastreams', id),
    name: `${property} in ${well.name}`,
    description,
    observationType: MEASUREMENT,
    unitOfMeasurement: { name: unitName, symbol: ucum, definition: `${UCUM}${encodeURIComponent(ucum)}` },
    ...links(base, 'Datastreams', id, ['Thing', 'Sensor', 'ObservedProperty', 'Observations']),
  });
}

/** OGC 18-088, 8.2.5. */
export function sensorJson(base: string): string {
  const { id, name, description } = LEVEL_SENSOR;
  return JSON.stringify({
    ...entityHead(base, 'Sensors', id),
    name,
    description,
    encodingType: 'text/plain',
    metadata: `${description}. Elevations: ${SENSOR_OF_ELEVATION}.`,
    ...links(base, 'Sensors', id, ['Datastreams']),
  });
}

/** OGC 18-088, 8.2.6. */
export function observedPropertyJson(base: string, quantity: LevelQuantity): string {
  const { property, description } = SERIES_QUANTITIES[quantity];
  return JSON.stringify({
    ...entityHead(base, 'ObservedProperties', quantity),
    name: property,
    definition: entityLink(base, 'ObservedProperties', quantity),
    description,
    ...links(base, 'ObservedProperties', quantity, ['Datastreams']),
  });
}

/** OGC 18-088, 8.2.7. The result is a number digit by digit; null where there was none, as in a dry well. */
export function observationJson(base: string, one: ThingObservation): string {
  const { id, phenomenonTime, resultTime, quality, parameters, result } = one;
  const told = {
    ...entityHead(base, 'Observations', id),
    phenomenonTime,
    resultTime,
    resultQuality: quality,
    parameters,
    ...links(base, 'Observations', id, ['Datastream', 'FeatureOfInterest']),
  };
  return `${openObject(told)},"result":${figureJson(result, id)}}`;
}

/** A page of a set. OGC 18-088, 9.2.2 and 9.3.3.6. */
export function collectionJson(
  items: readonly string[],
  more: { readonly count: number | null; readonly next: string | null },
): string {
  const count = more.count === null ? '' : `"@iot.count":${more.count},`;
  const next = more.next === null ? '' : `,"@iot.nextLink":${JSON.stringify(more.next)}`;
  return `{${count}"value":[${items.length > 0 ? '\n' : ''}${items.join(',\n')}]${next}}\n`;
}
