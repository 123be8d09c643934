import { describe, expect, it } from 'vitest';
import type { GeoLevel, GeoWell } from '../../../src/documents/geo/geo-facts.ts';
import { levelsGeoJson, wellsGeoJson } from '../../../src/documents/geo/geo-json.ts';

const well: GeoWell = {
  id: 'w1',
  name: 'GW-17',
  latitudeDeg: '41.50120',
  longitudeDeg: '-81.69340',
  totalDepthFt: '61.60',
};
const level: GeoLevel = {
  id: 'l1',
  well,
  observedAt: '2026-05-07T10:20:00-04:00',
  purpose: 'synoptic',
  state: 'measured',
  depthToWaterFt: '-0.40',
};

const read = (parts: Iterable<string>) => JSON.parse([...parts].join(''));

/** What RFC 7946 asks of a collection of points, section by section. */
function expectGeoJson(collection: { type: string; features: readonly Record<string, unknown>[] }): void {
  expect(collection.type).toBe('FeatureCollection');
  expect(collection).not.toHaveProperty('crs');
  expect(new Set(collection.features.map(({ id }) => id)).size).toBe(collection.features.length);
  for (const feature of collection.features) {
    expect(Object.keys(feature).sort()).toEqual(['geometry', 'id', 'properties', 'type']);
    expect(feature.type).toBe('Feature');
    expect(typeof feature.properties).toBe('object');
    const geometry = feature.geometry as null | { type: string; coordinates: readonly [number, number] };
    if (geometry === null) continue;
    expect(geometry.type).toBe('Point');
    expect(geometry.coordinates).toHaveLength(2);
    expect(Math.abs(geometry.coordinates[0])).toBeLessThanOrEqual(180);
    expect(Math.abs(geometry.coordinates[1])).toBeLessThanOrEqual(90);
  }
}

async function* inParts(...parts: GeoLevel[][]): AsyncGenerator<GeoLevel[], void> {
  yield* parts;
}

async function all(texts: AsyncIterable<string>): Promise<string[]> {
  const found: string[] = [];
  for await (const text of texts) found.push(text);
  return found;
}

describe('wells and levels as GeoJSON', () => {
  it('has points with the longitude first, and values as they were written', async () => {
    const wells = read(wellsGeoJson([well, { ...well, id: 'w2' }]));
    expectGeoJson(wells);
    expect(wells.features[0].geometry.coordinates).toEqual([-81.6934, 41.5012]);
    expect(wells.features[0].properties).toEqual({ kind: 'well', name: 'GW-17', totalDepthFt: '61.60' });
    const levels = read(await all(levelsGeoJson(inParts([level], [], [{ ...level, id: 'l2' }]))));
    expectGeoJson(levels);
    expect(levels.features.map(({ id }: { id: string }) => id)).toEqual(['l1', 'l2']);
    expect(levels.features[0]).toMatchObject({
      id: 'l1',
      geometry: { coordinates: [-81.6934, 41.5012] },
      properties: { kind: 'water-level', well: 'w1', wellName: 'GW-17', depthToWaterFt: '-0.40', state: 'measured' },
    });
  });

  it.each([
    [{ latitudeDeg: '91' }, 'the latitude "91" is not between -90 and 90 degrees'],
    [{ longitudeDeg: '-180.1' }, 'the longitude "-180.1" is not between -180 and 180 degrees'],
    [{ latitudeDeg: '4 1' }, 'the latitude "4 1" is not between -90 and 90 degrees'],
    [{ datum: 'NAD27' }, 'the coordinates are in NAD27, and GeoJSON takes WGS 84 alone'],
  ])('draws no place that is none, says why and tells what was recorded: %j', (more, why) => {
    const wells = read(wellsGeoJson([{ ...well, ...more }]));
    expectGeoJson(wells);
    expect(wells.features[0].geometry).toBeNull();
    expect(wells.features[0].properties).toMatchObject({ whyNoPlace: why, longitudeDeg: '-81.69340', ...more });
  });

  it('draws the ends of the world, and a well without coordinates nowhere', () => {
    const edges = read(
      wellsGeoJson([
        { ...well, latitudeDeg: '-90', longitudeDeg: '180' },
        { id: 'w3', name: '"<>\u2028' },
      ]),
    );
    expectGeoJson(edges);
    expect(edges.features[0].geometry.coordinates).toEqual([180, -90]);
    expect(edges.features[1].properties).toEqual({
      kind: 'well',
      name: '"<>\u2028',
      whyNoPlace: 'no coordinates are recorded',
    });
  });

  it('is whole without wells', () => {
    expectGeoJson(read(wellsGeoJson([])));
  });
});
