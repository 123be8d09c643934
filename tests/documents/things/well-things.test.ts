import Ucum from '@lhncbc/ucum-lhc';
import { describe, expect, it } from 'vitest';
import { SERIES_QUANTITIES } from '../../../src/documents/things/series-quantities.ts';
import type { ThingObservation, WellThing } from '../../../src/documents/things/thing-facts.ts';
import { wellThings } from '../../../src/documents/things/well-things.ts';

const BASE = 'https://example.org/v1.1';

const observation: ThingObservation = {
  id: 'o1',
  phenomenonTime: '2026-05-07T10:20:00-04:00',
  resultTime: '2026-05-07T10:21:30-04:00',
  result: '-0.40',
};

function well(observations: Iterable<ThingObservation>, more: Partial<WellThing> = {}): WellThing {
  return {
    id: 'w1',
    name: 'GW-17',
    latitudeDeg: '41.5012',
    longitudeDeg: '-81.6934',
    properties: { site: 'Old tannery' },
    series: [
      {
        id: 'w1-level',
        quantity: 'depthToWaterFt',
        sensor: { id: 'tape', name: 'Water level tape', description: 'Electric tape, read by a person' },
        observations,
      },
    ],
    ...more,
  };
}

const textOf = (wells: Iterable<WellThing>) => [...wellThings(wells, BASE)].join('');
const read = (wells: Iterable<WellThing>) => JSON.parse(textOf(wells));

describe('wells as things', () => {
  it('have locations, data streams and observations with both times', () => {
    const { value, '@iot.count': count } = read([well([observation])]);
    expect(count).toBe(1);
    const [thing] = value;
    expect(thing).toMatchObject({
      '@iot.id': 'w1',
      '@iot.selfLink': `${BASE}/Things('w1')`,
      name: 'GW-17',
      properties: { site: 'Old tannery' },
    });
    expect(thing.Locations[0]).toMatchObject({
      encodingType: 'application/geo+json',
      location: { type: 'Point', coordinates: [-81.6934, 41.5012] },
    });
    const [stream] = thing.Datastreams;
    expect(stream.unitOfMeasurement).toEqual({
      name: 'foot',
      symbol: '[ft_i]',
      definition: 'http://www.opengis.net/def/uom/UCUM/0/%5Bft_i%5D',
    });
    expect(stream.Observations).toEqual([
      {
        '@iot.id': 'o1',
        '@iot.selfLink': `${BASE}/Observations('o1')`,
        phenomenonTime: '2026-05-07T10:20:00-04:00',
        resultTime: '2026-05-07T10:21:30-04:00',
        result: -0.4,
      },
    ]);
  });

  it('have all properties that OGC 18-088 makes mandatory', () => {
    const [thing] = read([well([observation])]).value;
    const has = (entity: object, names: string) =>
      expect(Object.keys(entity)).toEqual(expect.arrayContaining(names.split(' ')));
    has(thing, 'name description');
    has(thing.Locations[0], 'name description encodingType location');
    const [stream] = thing.Datastreams;
    has(stream, 'name description unitOfMeasurement observationType');
    has(stream.ObservedProperty, 'name definition description');
    has(stream.Sensor, 'name description encodingType metadata');
    has(stream.Observations[0], 'phenomenonTime result resultTime');
  });

  it('keep the digits that were written', () => {
    expect(textOf([well([observation, { ...observation, id: 'o2', result: '7.10' }])])).toMatch(
      /"result":-0\.40\}.*"result":7\.10\}/s,
    );
  });

  it('tell a dry well as observed without a result', () => {
    const { result: _result, ...none } = observation;
    const [thing] = read([well([{ ...none, parameters: { state: 'dry' } }])]).value;
    expect(thing.Datastreams[0].Observations[0]).toMatchObject({ result: null, parameters: { state: 'dry' } });
  });

  it('name units that another table of UCUM knows', () => {
    const table = Ucum.UcumLhcUtils.getInstance();
    for (const { ucum } of Object.values(SERIES_QUANTITIES)) {
      expect([ucum, table.validateUnitString(ucum).status]).toEqual([ucum, 'valid']);
    }
  });

  it('have no location where none can be drawn, and say why', () => {
    const [thing] = read([well([], { datum: 'NAD27' })]).value;
    expect(thing.Locations).toEqual([]);
    expect(thing.properties.whyNoPlace).toContain('NAD27');
  });

  it('are valid JSON whatever the text, with keys quoted in their addresses', () => {
    const name = '"\\\u0000\u2028</script>\ud800';
    const [thing] = read([well([{ ...observation, id: "o'1/%" }], { name })]).value;
    expect(thing.name).toBe(name);
    expect(thing.Datastreams[0].Observations[0]['@iot.selfLink']).toBe(`${BASE}/Observations('o''1%2F%25')`);
    expect(read([])).toEqual({ value: [], '@iot.count': 0 });
  });

  it('refuse a result that is no figure', () => {
    for (const result of ['<0.5', '1e3', 'NaN', '007', '']) {
      expect(() => textOf([well([{ ...observation, result }])])).toThrow(/is no figure: give plain digits/);
    }
  });

  it('draw observations as they are written, and gather none', () => {
    let drawn = 0;
    function* many() {
      for (; drawn < 5_000; drawn += 1) yield { ...observation, id: `o${drawn}` };
    }
    let told = 0;
    let ahead = 0;
    for (const part of wellThings([well(many())], BASE)) {
      if (part.includes('"phenomenonTime"')) told += 1;
      ahead = Math.max(ahead, drawn - told);
    }
    expect(told).toBe(5_000);
    expect(ahead).toBeLessThanOrEqual(1);
  });
});
