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

/** The features of a collection that come one after the other. */
class Features {
  #count = 0;

  line(feature: string): string {
    this.#count += 1;
    return `${this.#count === 1 ? '' : ','}\n${feature}`;
  }
}

/** Wells as GeoJSON (RFC 7946), feature by feature in the order given. */
export function* wellsGeoJson(wells: Iterable<GeoWell>): Generator<string, void> {
  const features = new Features();
  yield HEAD;
  for (const well of wells) yield features.line(wellFeature(well));
  yield TAIL;
}

/** Water levels as GeoJSON (RFC 7946), feature by feature in the order given; they come in parts. */
export async function* levelsGeoJson(parts: AsyncIterable<readonly GeoLevel[]>): AsyncGenerator<string, void> {
  const features = new Features();
  yield HEAD;
  for await (const part of parts) for (const level of part) yield features.line(levelFeature(level));
  yield TAIL;
}
