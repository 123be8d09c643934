import type { GeoLevel, GeoWell } from './geo-facts.ts';
import { placeOfWell } from './place-of-well.ts';

function feature(id: string, well: GeoWell, properties: object): string {
  const { geometry, ...why } = placeOfWell(well);
  return JSON.stringify({ type: 'Feature', id, geometry, properties: { ...properties, ...why } });
}

function wellFeature(well: GeoWell): string {
  const { id, latitudeDeg, longitudeDeg, datum, ...told } = well;
  // coordinates that could not be drawn are told as they were recorded
  const recorded = placeOfWell(well).geometry ? {} : { latitudeDeg, longitudeDeg, datum };
  return feature(id, well, { kind: 'well', ...told, ...recorded });
}

function levelFeature({ id, well, ...told }: GeoLevel): string {
  return feature(id, well, { kind: 'water-level', well: well.id, wellName: well.name, ...told });
}

const HEAD = '{"type":"FeatureCollection","features":[';
const TAIL = '\n]}\n';

function* collection<T>(all: Iterable<T>, write: (one: T) => string): Generator<string, void> {
  yield HEAD;
  let first = true;
  for (const one of all) {
    yield `${first ? '\n' : ',\n'}${write(one)}`;
    first = false;
  }
  yield TAIL;
}

/** Wells as GeoJSON (RFC 7946), feature by feature in the order given. */
export function wellsGeoJson(wells: Iterable<GeoWell>): Generator<string, void> {
  return collection(wells, wellFeature);
}

/** Water levels as GeoJSON (RFC 7946), feature by feature in the order given. */
export function levelsGeoJson(levels: Iterable<GeoLevel>): Generator<string, void> {
  return collection(levels, levelFeature);
}

/** The same of levels that come in parts. */
export async function* levelsGeoJsonOf(parts: AsyncIterable<readonly GeoLevel[]>): AsyncGenerator<string, void> {
  yield HEAD;
  let first = true;
  for await (const part of parts) {
    for (const level of part) {
      yield `${first ? '\n' : ',\n'}${levelFeature(level)}`;
      first = false;
    }
  }
  yield TAIL;
}
