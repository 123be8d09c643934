import { placeOfWell } from '../geo/place-of-well.ts';
import { SERIES_QUANTITIES } from './series-quantities.ts';
import type { ThingObservation, ThingSeries, WellThing } from './thing-facts.ts';

/** OGC 18-088, section 8.2.4, table 12: the type whose result is a figure. */
const MEASUREMENT = 'http://www.opengis.net/def/observationType/OGC-OM/2.0/OM_Measurement';
const UCUM = 'http://www.opengis.net/def/uom/UCUM/0/';

/** A number of JSON, digit by digit as it was written: 7.10 stays 7.10 for a reader that keeps decimals. RFC 8259, 6. */
const JSON_NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;

function entity(
  base: string,
  set: string,
  id: string,
): { readonly '@iot.id': string; readonly '@iot.selfLink': string } {
  // a quotation mark within a key is doubled: OData 4.0, URL conventions
  return { '@iot.id': id, '@iot.selfLink': `${base}/${set}('${encodeURIComponent(id.replaceAll("'", "''"))}')` };
}

/** The JSON of an object without its last brace, so that more can follow. */
function open(told: object): string {
  return JSON.stringify(told).slice(0, -1);
}

function resultJson({ id, result }: ThingObservation): string {
  if (result === undefined) return 'null';
  if (JSON_NUMBER.test(result)) return result;
  throw new RangeError(`the result "${result}" of observation ${id} is no figure: give plain digits, as -0.42`);
}

function observationJson(base: string, one: ThingObservation): string {
  const { id, phenomenonTime, resultTime, quality, parameters } = one;
  const told = { ...entity(base, 'Observations', id), phenomenonTime, resultTime, resultQuality: quality, parameters };
  return `${open(told)},"result":${resultJson(one)}}`;
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
