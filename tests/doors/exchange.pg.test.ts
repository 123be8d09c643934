import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readCsv } from '../documents/read-csv.ts';
import { allOf, readXml } from '../documents/support/read-xml.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft } from '../support/test-firm.ts';
import { RestClient } from './rest/rest-client.ts';

const HOSTILE = `a--b-- ]]> <!-- & "q" 'x' \u0001 =1+1`;
const AT = '2026-05-04T10:20:00-05:00';

let t: TestApp;
let rest: RestClient;
const ids = {
  visit: v7(),
  purge: v7(),
  reading: v7(),
  level: v7(),
  dry: v7(),
  sounding: v7(),
  sample: v7(),
  blind: v7(),
  trip: v7(),
  temperature: v7(),
};

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

function fieldDrafts(): Draft[] {
  const { event, lone, north, pump } = t.firm.ids;
  const observed = t.firm.observed(AT);
  const more = { ph: '7.10', specificConductanceUsPerCm: '512', depthToWaterFt: '12.30', temperatureF: '55.1' };
  const reading = { purge: ids.purge, observed, ...more, turbidityNtu: '1000', overRange: ['turbidityNtu'] };
  const level = { visit: ids.visit, purpose: 'synoptic', observed };
  return [
    { kind: 'visit', id: ids.visit, set: { event, well: lone, crew: north, method: 'low-flow', arrived: AT } },
    { kind: 'pump-set-up', set: { visit: ids.visit, pump, observed } },
    { kind: 'purge', id: ids.purge, set: { visit: ids.visit, began: AT } },
    { kind: 'reading', id: ids.reading, set: { ...reading, remark: HOSTILE } },
    { kind: 'water-level', id: ids.level, set: { ...level, state: 'measured', depthToWaterFt: '12.3' } },
    { kind: 'water-level', id: ids.dry, set: { ...level, state: 'dry' } },
    { kind: 'sounding', id: ids.sounding, set: { visit: ids.visit, depthToBottomFt: '39.8', observed } },
  ];
}

function sampleDrafts(): Draft[] {
  const { event } = t.firm.ids;
  const observed = t.firm.observed(AT, 'from-paper');
  const taken = { visit: ids.visit, suites: ['voc'], collected: AT };
  const result = { event, sample: ids.sample, unit: 'µg/L', reportingLimit: '1', observed, method: '8260D' };
  const blank = (id: string, type: string, number: string): Draft => {
    return { kind: 'blank', id, set: { event, type, number, collected: AT, suites: [] } };
  };
  return [
    { kind: 'sample', id: ids.sample, set: { ...taken, number: 'S-1' } },
    { kind: 'sample', id: ids.blind, set: { ...taken, number: 'S-2', type: 'blind-duplicate', of: ids.sample } },
    blank(ids.trip, 'trip', 'T-1'),
    blank(ids.temperature, 'temperature', 'T-2'),
    {
      kind: 'laboratory-result',
      set: { ...result, analyte: 'Benzene', casNumber: '71-43-2', value: '1.30', condition: 'detected' },
    },
    { kind: 'laboratory-result', set: { ...result, analyte: 'Toluene', condition: 'not-detected', qualifiers: ['U'] } },
    { kind: 'laboratory-result', set: { ...result, analyte: 'Unheard', value: '-0.10', condition: 'detected' } },
  ];
}

beforeAll(async () => {
  t = await testApp();
  rest = new RestClient(t, await t.token('coordinator'));
  const { lone, shallow } = t.firm.ids;
  const place = { latitudeDeg: '41.50120', longitudeDeg: '-81.69340', built: '2004-06-01', remark: HOSTILE };
  const point = { description: 'notch, north side', elevationFt: '612.34', datum: 'NAVD88', change: 'first' };
  await push([
    { verb: 'amend', kind: 'well', id: lone, base: { rev: 1 }, set: place },
    { kind: 'measuring-point', set: { well: lone, ...point, validFrom: '2020-01-01T00:00:00Z' } },
    { kind: 'measuring-point', set: { well: shallow, ...point, validFrom: '2020-01-01T00:00:00Z' } },
    ...fieldDrafts(),
    ...sampleDrafts(),
  ]);
});
afterAll(() => t.close());

const KNOWN = `horizontalMethod=GPS-Unspecified&horizontalDatum=NAD83&methodContext=USEPA&characteristics=${encodeURIComponent('71-43-2=Benzene;toluene=Toluene')}`;

describe('an event for the Water Quality Exchange', () => {
  const wqx = (kind: string, query = '') => rest.get(`/events/${t.firm.ids.event}/wqx.${kind}?${KNOWN}${query}`);
  const texts = (xml: string, name: string) => allOf(readXml(xml), name).map(({ text }) => text);

  it('is XML that another parser reads, with values digit by digit and hostile text as text', async () => {
    const { status, text, headers } = await wqx('xml', '&identifiers=names&organization=EXAMPLE&project=26-041');
    expect([status, headers['content-type']]).toEqual([200, 'application/xml; charset=utf-8']);
    expect(texts(text, 'OrganizationIdentifier')).toEqual(['EXAMPLE']);
    expect(texts(text, 'OrganizationFormalName')).toEqual(['Testwater Associates']);
    expect(new Set(texts(text, 'ActivityTypeCode'))).toEqual(
      new Set([
        'Field Msr/Obs',
        'Sample-Routine',
        'Quality Control Sample-Blind Duplicate',
        'Quality Control Sample-Trip Blank',
      ]),
    );
    expect(texts(text, 'ResultMeasureValue').toSorted()).toEqual(['1.30', '12.3', '12.30', '39.8', '512', '7.10']);
    expect(texts(text, 'CharacteristicName')).toEqual(expect.arrayContaining(['pH', 'Benzene', 'Toluene']));
    expect(texts(text, 'ResultDetectionConditionText')).toEqual(['Not Detected']);
    expect(texts(text, 'SampleCollectionEquipmentName')).toEqual(['Pump/Bladder', 'Pump/Bladder']);
    expect(texts(text, 'ActivityCommentText')).toContain(HOSTILE.replace('\u0001', '\ufffd'));
    const identifiers = allOf(readXml(text), 'ActivityDescription').map(({ children }) => children[0]?.text);
    expect(identifiers).toEqual(expect.arrayContaining(['S-1', 'S-2', 'T-1', ids.reading]));
    expect(texts(text, 'MonitoringLocationIdentifier')[0]).toBe('W-1');
    expect(texts(text, 'LatitudeMeasure')).toEqual(['41.50120']);
    expect(texts(text, 'Time')).toEqual(expect.arrayContaining(['10:20:00']));
    expect(texts(text, 'TimeZoneCode')).toEqual(expect.arrayContaining(['CDT']));
  });

  it('says in its comments, and in a report, what is not in it and why', async () => {
    const { body } = await wqx('xml', '&report=true');
    const why = (what: string) => body.notExported.find((one: { what: string }) => one.what.startsWith(what))?.why;
    expect(why(`result turbidityNtu of activity ${ids.reading}`)).toContain('end of the range');
    expect(why(`result temperatureF of activity ${ids.reading}`)).toContain('no name for temperatureF');
    expect(why(`water level ${ids.dry}`)).toBe('the well was dry: there is no figure');
    expect(why(`activity ${ids.temperature}`)).toContain('no type of activity for a temperature blank');
    expect(why('calibration checks')).toContain('several events');
    const unheard = body.notExported.find((one: { why: string }) => one.why.includes('"Unheard"'));
    expect(unheard.what).toContain(`of activity ${ids.sample}`);
    const { text } = await wqx('xml');
    const comments = [...text.matchAll(/<!--(.*?)-->/gs)].map((found) => found[1] ?? '');
    expect(comments.filter((one) => one.includes('--') || one.endsWith('-'))).toEqual([]);
    const reasons = new Set(body.notExported.map((one: { why: string }) => one.why));
    expect(comments).toHaveLength(reasons.size);
  });

  it('leaves out and names what the asker did not say: methods, datums, characteristics', async () => {
    const { body } = await rest.get(`/events/${t.firm.ids.event}/wqx.xml?report=true`);
    const whys = body.notExported.map(({ why }: { why: string }) => why).join('\n');
    expect(whys).toContain('no horizontal datum');
    expect(whys).toContain('asks for an analytical method');
    expect(whys).toContain('no name of the list of characteristics is known for "Benzene"');
    const bad = await rest.get(`/events/${t.firm.ids.event}/wqx.xml?characteristics=Benzene`);
    expect([bad.status, bad.body.code]).toEqual([400, 'bad_request']);
  });

  it('is CSV that comes back equal to the XML, and says where its report is', async () => {
    const { text, headers } = await wqx('csv');
    expect(headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
    expect(headers.link).toMatch(/report=true>; rel="describedby"/);
    const [head = [], ...rows] = readCsv(text);
    const column = (name: string) => head.indexOf(name);
    expect(column('ActivityIdentifier')).toBe(0);
    const values = rows.map((row) => row[column('ResultDescription/ResultMeasure/ResultMeasureValue')] ?? '');
    const xml = (await wqx('xml')).text;
    expect(values.filter((value) => value !== '').toSorted()).toEqual(texts(xml, 'ResultMeasureValue').toSorted());
    const comment = rows.find((row) => row[0] === ids.reading)?.[column('ActivityCommentText')];
    expect(comment).toBe(HOSTILE);
    const [, well] = readCsv((await wqx('csv', '&table=locations')).text);
    expect(well?.slice(0, 3)).toEqual([t.firm.ids.lone, 'W-1', 'Well']);
  });

  it('is for whoever follows the event, and missing to all others', async () => {
    expect((await rest.get(`/events/${v7()}/wqx.xml`)).body.code).toBe('record_missing');
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.get(`/events/${t.firm.ids.event}/wqx.csv`)).status).toBe(200);
    expect((await new RestClient(t, null).get(`/events/${t.firm.ids.event}/wqx.csv`)).status).toBe(401);
  });
});

/** What RFC 7946 asks of a collection of points. */
function faultsOf(collection: { type: string; features: { type: string; geometry: unknown; properties: unknown }[] }) {
  const positions = collection.features.flatMap(({ geometry }) => (geometry === null ? [] : [geometry]));
  const isPoint = (one: unknown) => {
    const { type, coordinates } = one as { type: string; coordinates: number[] };
    const [longitude = 999, latitude = 999] = coordinates;
    return type === 'Point' && coordinates.length === 2 && Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
  };
  return [
    ...(collection.type === 'FeatureCollection' ? [] : ['type']),
    ...collection.features.filter((one) => one.type !== 'Feature' || typeof one.properties !== 'object'),
    ...positions.filter((one) => !isPoint(one)),
  ];
}

describe('the map of a site', () => {
  it('has its wells, with a place or why there is none', async () => {
    const { body, headers } = await rest.get(`/sites/${t.firm.ids.site}/wells.geojson`);
    expect(headers['content-type']).toBe('application/geo+json; charset=utf-8');
    expect(faultsOf(body)).toEqual([]);
    expect(body.features.map(({ properties }: { properties: { name: string } }) => properties.name)).toEqual([
      'W-1',
      'W-4D',
      'W-4S',
    ]);
    expect(body.features[0]).toMatchObject({
      id: t.firm.ids.lone,
      geometry: { type: 'Point', coordinates: [-81.6934, 41.5012] },
      properties: { site: 'Old Depot', measuringPointElevationFt: '612.34', elevationDatum: 'NAVD88' },
    });
    expect(body.features[1]).toMatchObject({
      geometry: null,
      properties: { whyNoPlace: 'no coordinates are recorded' },
    });
  });

  it('has its levels at the wells, with the elevation of the water exactly in decimal', async () => {
    const { body, headers } = await rest.get(`/sites/${t.firm.ids.site}/levels.geojson`);
    expect(headers['content-type']).toBe('application/geo+json; charset=utf-8');
    expect(faultsOf(body)).toEqual([]);
    expect(body.features).toHaveLength(2);
    const [measured, dry] = body.features.toSorted((a: { id: string }, b: { id: string }) => (a.id < b.id ? -1 : 1));
    expect(measured).toMatchObject({
      id: ids.level,
      geometry: { coordinates: [-81.6934, 41.5012] },
      properties: {
        wellName: 'W-1',
        depthToWaterFt: '12.3',
        waterElevationFt: '600.04',
        measuringPoint: 'notch, north side',
        observedAt: AT,
      },
    });
    expect(dry.properties).toMatchObject({ state: 'dry' });
    expect(dry.properties.waterElevationFt).toBeUndefined();
  });

  it('is missing of a site that is not there, and without levels of events that a crew does not follow', async () => {
    expect((await rest.get(`/sites/${v7()}/levels.geojson`)).body.code).toBe('record_missing');
    const { site, north } = t.firm.ids;
    const other = v7();
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const visit = v7();
    await push([
      {
        kind: 'event',
        id: other,
        set: { site, name: 'Other', starts: '2026-06-01', ends: '2026-06-01', standing: 'open', plan },
      },
      {
        kind: 'visit',
        id: visit,
        set: { event: other, well: t.firm.ids.lone, crew: north, method: 'gauging', arrived: AT },
      },
      {
        kind: 'water-level',
        set: { visit, purpose: 'synoptic', state: 'measured', depthToWaterFt: '1', observed: t.firm.observed(AT) },
      },
    ]);
    expect((await rest.get(`/sites/${site}/levels.geojson`)).body.features).toHaveLength(3);
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.get(`/sites/${site}/levels.geojson`)).body.features).toHaveLength(2);
  });
});

/** Mandatory parts of the entities, written down from tables 2 to 17 of OGC 18-088, apart from the code. */
const MANDATORY: Readonly<Record<string, string>> = {
  Things: 'name description',
  Locations: 'name description encodingType location',
  Datastreams: 'name description unitOfMeasurement observationType',
  Sensors: 'name description encodingType metadata',
  ObservedProperties: 'name definition description',
  Observations: 'phenomenonTime result resultTime',
  FeaturesOfInterest: 'name description encodingType feature',
};
const BASE = 'http://localhost:80/v1/sensor-things';

describe('wells and levels as OGC SensorThings', () => {
  // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
  const read = async (url: string): Promise<any> => {
    const { status, body } = await rest.get(url.replace(BASE, '/sensor-things'));
    expect([url, status]).toEqual([url, 200]);
    return body;
  };

  it('has a set for each entity, with the parts that the standard asks for and links that lead somewhere', async () => {
    const { value, serverSettings } = await read('/sensor-things');
    expect(serverSettings).toEqual({ conformance: [] });
    expect(value.map(({ name }: { name: string }) => name)).toEqual(expect.arrayContaining(Object.keys(MANDATORY)));
    for (const { name, url } of value) {
      const { value: items } = await read(url);
      if (name !== 'HistoricalLocations') expect([name, items.length > 0]).toEqual([name, true]);
      for (const item of items.slice(0, 2)) {
        expect(Object.keys(item)).toEqual(expect.arrayContaining(['@iot.id', ...(MANDATORY[name] ?? '').split(' ')]));
        expect(item['@iot.selfLink']).toBe(`${BASE}/${name}('${item['@iot.id']}')`);
        expect(await read(item['@iot.selfLink'])).toEqual(item);
        for (const [link, address] of Object.entries(item))
          if (link.endsWith('@iot.navigationLink')) await read(String(address));
      }
    }
  });

  it('goes from a well to its depths and elevations, digit by digit', async () => {
    const { lone } = t.firm.ids;
    const streams = (await read(`/sensor-things/Things('${lone}')/Datastreams`)).value;
    expect(streams.map(({ unitOfMeasurement }: { unitOfMeasurement: object }) => unitOfMeasurement)).toMatchObject([
      { symbol: '[ft_i]' },
      { symbol: '[ft_i]' },
    ]);
    const [depths, elevations] = streams.map((one: Record<string, string>) => one['Observations@iot.navigationLink']);
    const results = (body: { value: { result: number | null; phenomenonTime: string }[] }) =>
      body.value.map(({ result }) => result);
    expect(results(await read(depths)).toSorted()).toEqual([1, 12.3, null]);
    const { text } = await rest.get(elevations.replace(BASE, '/sensor-things'));
    expect(text).toContain('"result":600.04}');
    expect(text).toContain('"result":611.34}');
    const [first] = (await read(depths)).value;
    expect(first).toMatchObject({
      phenomenonTime: AT,
      parameters: { measuringPoint: 'notch, north side', datum: 'NAVD88' },
    });
    expect((await read(`${first['@iot.selfLink']}/Datastream`))['@iot.id']).toBe(lone);
    expect((await read(`${first['@iot.selfLink']}/FeatureOfInterest`)).feature.geometry.coordinates).toEqual([
      -81.6934, 41.5012,
    ]);
    expect((await read(`/sensor-things/Things('${lone}')/Locations`)).value).toHaveLength(1);
    const { shallow } = t.firm.ids;
    expect((await read(`/sensor-things/Things('${shallow}')`)).properties.whyNoPlace).toBe(
      'no coordinates are recorded',
    );
  });

  it('comes in parts that follow on each other and together are the whole', async () => {
    const whole = await read('/sensor-things/Observations?$count=true');
    expect(whole['@iot.count']).toBe(6);
    expect(whole['@iot.nextLink']).toBeUndefined();
    for (const top of [1, 2, 3, 4]) {
      const items: unknown[] = [];
      let next: string | undefined = `/sensor-things/Observations?$top=${top}&$count=true`;
      while (next !== undefined) {
        const part = await read(next);
        expect(part['@iot.count']).toBe(6);
        items.push(...part.value);
        next = part['@iot.nextLink'];
      }
      expect(items).toEqual(whole.value);
    }
    expect((await read('/sensor-things/Datastreams?$skip=3&$top=2')).value).toHaveLength(2);
    expect((await read('/sensor-things/Locations?$count=true'))['@iot.count']).toBe(1);
  });

  it('refuses what it cannot answer, and hides what is not in sight', async () => {
    const refused = async (url: string, client = rest) => {
      const { status, body } = await client.get(`/sensor-things/${url}`);
      return [status, body.code];
    };
    expect(await refused('Things?$filter=name')).toEqual([400, 'bad_request']);
    expect(await refused('Things?$top=100000')).toEqual([400, 'bad_request']);
    for (const url of [
      'Pumps',
      `Things('${v7()}')`,
      "Things('x')",
      `Things('${t.firm.ids.pump}')`,
      'Things/Datastreams',
      "Things('%00')",
    ])
      expect([url, ...(await refused(url))]).toEqual([url, 404, 'not_found']);
    expect(await refused(`Things('${t.firm.ids.lone}')/Sensors`)).toEqual([404, 'not_found']);
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.get('/sensor-things/Observations?$count=true')).body['@iot.count']).toBe(4);
    const stranger = new RestClient(t, await t.token('crew'));
    expect((await stranger.get('/sensor-things/Things?$count=true')).body['@iot.count']).toBe(0);
  });
});
