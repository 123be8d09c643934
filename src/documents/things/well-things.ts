import { placeOfWell } from '../geo/place-of-well.ts';
import { entityHead as entity, figureJson, openObject as open } from './entity-json.ts';
import { SERIES_QUANTITIES } from './series-quantities.ts';
import type { ThingObservation, ThingSeries, WellThing } from './thing-facts.ts';

/** OGC 18-088, section 8.2.4, table 12: the type whose result is a figure. */
export const MEASUREMENT = 'http://www.opengis.net/def/observationType/OGC-OM/2.0/OM_Measurement';
export const UCUM = 'http://www.opengis.net/def/uom/UCUM/0/';

function observationJson(base: string, one: ThingObservation): string {
  const { id, phenomenonTime, resultTime, quality, parameters } = one;
  const told = { ...entity(base, 'Observations', id), phenomenonTime, resultTime, resultQuality: quality, parameters };
  return `${open(told)},"result":${figureJson(one.result, one.id)}}`;
}

function* joined<T>(all: Iterable<T>, write: (one: T) => Iterable<string>): Generator<string, number> {
  let count = 0;
  for (const one of all) {
    yield count === 0 ? '\n' : ',\n';
    yield* write(one);
    count += 1;
  }
  return count;
}

function* datastream(base: string, well: WellThing, series: ThingSeries): Generator<string, void> {
  const { property, description, unitName, ucum } = SERIES_QUANTITIES[series.quantity];
  const observed = entity(base, 'ObservedProperties', series.quantity);
  const { id, ...sensor } = series.sensor;
  const told = {
    ...entity(base, 'Datastreams', series.id),
    name: `${property} in ${well.name}`,
    description,
    observationType: MEASUREMENT,
    unitOfMeasurement: { name: unitName, symbol: ucum, definition: `${UCUM}${encodeURIComponent(ucum)}` },
    ObservedProperty: { ...observed, name: property, definition: observed['@iot.selfLink'], description },
    Sensor: { ...entity(base, 'Sensors', id), ...sensor, encodingType: 'text/plain', metadata: sensor.description },
  };
  yield `${open(told)},"Observations":[`;
  yield* joined(series.observations, (one) => [observationJson(base, one)]);
  yield ']}';
}

function* thing(base: string, well: WellThing): Generator<string, void> {
  const { geometry, ...why } = placeOfWell(well);
  const location = geometry && {
    ...entity(base, 'Locations', well.id),
    name: well.name,
    description: `Where ${well.name} is`,
    encodingType: 'application/geo+json',
    location: geometry,
  };
  const told = {
    ...entity(base, 'Things', well.id),
    name: well.name,
    description: well.description ?? 'Monitoring well',
    properties: { ...well.properties, ...why },
    Locations: location ? [location] : [],
  };
  yield `${open(told)},"Datastreams":[`;
  yield* joined(well.series, (series) => datastream(base, well, series));
  yield ']}';
}

/**
 * Wells as things with their data streams and observations expanded, in the shape of OGC SensorThings API 1.1 (18-088),
 * in pieces and in the order given. The base is where such addresses begin, as https://example.org/v1.1.
 */
export function* wellThings(wells: Iterable<WellThing>, base: string): Generator<string, void> {
  yield '{"value":[';
  const count = yield* joined(wells, (well) => thing(base, well));
  yield `\n],"@iot.count":${count}}\n`;
}
