import { describe, expect, it } from 'vitest';
import { ACTIVITY_TYPES } from '../../../src/documents/wqx/activity-types.ts';
import { shape } from '../../../src/documents/wqx/element.ts';
import type { WqxActivity, WqxFacts, WqxResult, WqxWell } from '../../../src/documents/wqx/wqx-facts.ts';
import { wqxCsvParts, wqxNotExported, wqxXmlParts } from '../../../src/documents/wqx/wqx-parts.ts';
import { ORGANIZATION } from '../../../src/documents/wqx/wqx-schema.ts';
import { wqxTime } from '../../../src/documents/wqx/wqx-times.ts';
import { readCsv } from '../read-csv.ts';
import { allOf, readXml, type XmlElement } from '../support/read-xml.ts';
import { benzene, exampleFacts, purge, reading, sample } from './wqx-example.ts';

/** The order of the schema, version 3.0, written down apart from the code: an element's parts, as far as used here. */
const ORDER: Readonly<Record<string, string>> = {
  Organization: 'OrganizationDescription Project MonitoringLocation Activity',
  MonitoringLocation: 'MonitoringLocationIdentity MonitoringLocationGeospatial WellInformation',
  MonitoringLocationGeospatial:
    'LatitudeMeasure LongitudeMeasure HorizontalCollectionMethodName HorizontalCoordinateReferenceSystemDatumName CountryCode StateCode CountyCode',
  WellInformation:
    'WellTypeText AquiferTypeName FormationTypeText WellHoleDepthMeasure ConstructionDate WellDepthMeasure',
  Activity: 'ActivityDescription SampleDescription Result',
  ActivityDescription:
    'ActivityIdentifier ActivityTypeCode ActivityMediaName ActivityMediaSubdivisionName ActivityStartDate ActivityStartTime ActivityEndDate ActivityEndTime ActivityDepthHeightMeasure ProjectIdentifier ActivityConductingOrganizationText MonitoringLocationIdentifier ActivityCommentText',
  SampleDescription:
    'SampleCollectionMethod SampleCollectionEquipmentName SampleCollectionEquipmentCommentText SamplePreparation',
  Result: 'ResultDescription ResultAnalyticalMethod ResultLabInformation',
  ResultDescription:
    'ResultDetectionConditionText CharacteristicName ResultSampleFractionText ResultMeasure ResultStatusIdentifier ResultValueTypeName ResultTemperatureBasisText ResultCommentText',
  ResultMeasure: 'ResultMeasureValue MeasureUnitCode MeasureQualifierCode',
  ResultLabInformation: 'LaboratoryName AnalysisStartDate AnalysisStartTime ResultDetectionQuantitationLimit',
};

function outOfOrder(element: XmlElement): readonly string[] {
  const order = ORDER[element.name]?.split(' ');
  const places = element.children.map(({ name }) => (order ? order.indexOf(name) : 0));
  const here = places.some((place, at) => place < 0 || place < (places[at - 1] ?? 0)) ? [element.name] : [];
  return [...here, ...element.children.flatMap(outOfOrder)];
}

/** As the door sends it, part by part. */
function wqxXml(facts: WqxFacts) {
  const parts = { ...facts, notTold: [] };
  return { xml: [...wqxXmlParts(parts)].join(''), notExported: wqxNotExported(parts) };
}

function wqxCsv(facts: WqxFacts) {
  const parts = { ...facts, notTold: [] };
  const table = (name: 'results' | 'locations') => [...wqxCsvParts(parts, name)].join('');
  return { results: table('results'), locations: table('locations'), notExported: wqxNotExported(parts) };
}

const withActivities = (...activities: readonly WqxActivity[]): WqxFacts => ({ ...exampleFacts, activities });
const withResult = (more: Partial<WqxResult>): WqxFacts =>
  withActivities({ ...sample, results: [{ ...benzene, ...more }] });
const whyNot = (facts: WqxFacts) => wqxXml(facts).notExported.map(({ what, why }) => `${what}: ${why}`);
const texts = (facts: WqxFacts, name: string) => allOf(readXml(wqxXml(facts).xml), name).map(({ text }) => text);

describe('the export to the Water Quality Exchange', () => {
  it('is XML of its namespace in the order of the schema, with nothing left out of what fits', () => {
    const { xml, notExported } = wqxXml(exampleFacts);
    const root = readXml(xml);
    expect(notExported).toEqual([]);
    expect([root.name, root.uri]).toEqual(['WQX', 'http://www.exchangenetwork.net/schema/wqx/3']);
    expect(outOfOrder(root)).toEqual([]);
    expect(texts(exampleFacts, 'ResultMeasureValue')).toEqual(['-112.5', '512', '1.30']);
    expect(texts(exampleFacts, 'MeasureUnitCode')).toEqual(['ft', 'mV', 'uS/cm', 'ug/L', 'ug/L']);
    expect(texts(exampleFacts, 'CharacteristicName')).toEqual([
      'Oxidation reduction potential (ORP)',
      'Specific conductance',
      'Benzene',
    ]);
    expect(texts(exampleFacts, 'ResultTemperatureBasisText')).toEqual(['25 Deg C']);
    expect(texts(exampleFacts, 'ActivityTypeCode')).toEqual(['Field Msr/Obs', 'Sample-Routine']);
    expect(texts(exampleFacts, 'Time')).toEqual(['10:20:00', '10:42:00', '11:02:00', '13:00:00']);
    expect(texts(exampleFacts, 'TimeZoneCode')).toEqual(['EDT', 'EDT', 'EDT', 'CDT']);
  });

  it('rejects a routine sample without a location and takes a trip blank without one (T19)', () => {
    const { well: _well, ...nowhere } = sample;
    expect(whyNot(withActivities(nowhere))).toEqual(['activity S-1: "Sample-Routine" asks for a monitoring location']);
    const blank = withActivities({ ...nowhere, kind: 'trip-blank' });
    expect(whyNot(blank)).toEqual([]);
    expect(texts(blank, 'ActivityTypeCode')).toEqual(['Quality Control Sample-Trip Blank']);
    expect(texts(blank, 'ActivityMediaSubdivisionName')).toEqual([]);
    expect(
      texts(
        withActivities({ ...nowhere, kind: 'field-blank', blankWater: 'deionized' }),
        'ActivityMediaSubdivisionName',
      ),
    ).toEqual(['Deionized Water']);
  });

  it.each(Object.entries(ACTIVITY_TYPES))(
    'asks for a location and a method as the list says: %s',
    (kind, { needsLocation, needsMethod }) => {
      const { well: _well, ...nowhere } = { ...sample, kind: kind as WqxActivity['kind'] };
      expect(whyNot(withActivities(nowhere)).length).toBe(needsLocation ? 1 : 0);
      const { method: _method, ...byNoMethod } = benzene;
      const why = whyNot(withActivities({ ...nowhere, well: 'GW-17', results: [byNoMethod] }));
      expect(why).toEqual(
        needsMethod ? ['result benzene of activity S-1: this type of activity asks for an analytical method'] : [],
      );
    },
  );

  it('has the numbers of the activity list: 12 types ask for a location, 13 for a method', () => {
    const all = Object.values(ACTIVITY_TYPES);
    expect(all.filter(({ needsLocation }) => needsLocation)).toHaveLength(12);
    expect(all.filter(({ needsMethod }) => needsMethod)).toHaveLength(13);
    expect(all.every(({ code }) => code.length <= 70)).toBe(true);
  });

  it.each([
    [{ unit: 'ppb' }, 'the unit "ppb" of the result is not on the list of units'],
    [{ value: '<1' }, 'the result "<1" is no figure'],
    [{ qualifiers: ['XYZ'] }, '"XYZ" is not on the list of qualifiers'],
    [{ fraction: 'Some' }, '"Some" is not on the list of sample fractions'],
    [{ status: 'final' }, '"final" is not on the list of result statuses'],
    [{ valueType: 'Guess' }, '"Guess" is not on the list of value types'],
    [{ condition: 'ND' }, '"ND" is not on the list of detection conditions'],
    [
      { of: { characteristic: undefined, analyte: 'foo' } },
      'no name of the list of characteristics is known for "foo"',
    ],
    [{ of: { quantity: 'temperatureF' } }, 'the list of characteristics has no name for temperatureF in its unit'],
    [{ of: { quantity: 'toString' } }, 'the list of characteristics has no name for toString in its unit'],
    [{ comment: 'x'.repeat(4_001) }, 'ResultCommentText has 4001 characters, and the schema takes 4000'],
  ] as readonly (readonly [Partial<WqxResult>, string])[])(
    'leaves out a result that the lists do not know, and says why: %j',
    (more, why) => {
      const facts = withResult(more);
      expect(whyNot(facts).join()).toContain(why);
      expect(texts(facts, 'CharacteristicName')).toEqual([]);
      expect(texts(facts, 'ActivityIdentifier')).toEqual(['S-1']);
    },
  );

  it('tells what was not detected by its condition and limit, and invents no code such as UJ', () => {
    const { value: _value, ...none } = benzene;
    const facts = withActivities({
      ...sample,
      results: [{ ...none, condition: 'Not Detected', qualifiers: ['UJ', 'H'] }],
    });
    expect(whyNot(facts)).toEqual([]);
    expect(texts(facts, 'ResultDetectionConditionText')).toEqual(['Not Detected']);
    expect(texts(facts, 'MeasureQualifierCode')).toEqual(['U', 'H']);
    expect(texts(facts, 'ResultMeasureValue')).toEqual([]);
    expect(texts(facts, 'ResultCommentText')[0]).toContain('UJ as reported');
    expect(whyNot(withActivities({ ...sample, results: [none] })).join()).toContain(
      'neither a value nor a detection condition',
    );
    expect(
      whyNot(withActivities({ ...sample, results: [{ ...none, condition: 'Not Detected', limits: [] }] })).join(),
    ).toContain('names no limit');
  });

  it('says of a well what is missing, and exports what was done there', () => {
    const wells: readonly WqxWell[] = [{ identifier: 'GW-17', name: 'Well 17', latitude: '141', longitude: '-81' }];
    const facts = { ...exampleFacts, wells };
    expect(whyNot(facts)).toEqual([
      'well GW-17: it has no horizontal collection method; it has no horizontal datum; the latitude "141" is not between -90 and 90 degrees',
    ]);
    expect(texts(facts, 'ActivityIdentifier')).toEqual(['FM-1', 'S-1']);
  });

  it('says what has no type there, no project, an identifier too long or given twice', () => {
    const long = 'x'.repeat(56);
    const why = whyNot(
      withActivities(
        { ...sample, kind: 'temperature-blank' },
        { ...purge, projects: [] },
        { ...purge, identifier: long },
        { ...purge, results: [] },
      ),
    );
    // in the order of the activities, as the door tells them
    expect(why[0]).toContain('no type of activity for a temperature blank');
    expect(why[1]).toContain('it belongs to no project');
    expect(why[2]).toContain('ActivityIdentifier has 56 characters, and the schema takes 55');
    expect(why[3]).toContain('activity FM-1: its identifier is given more than once');
    expect(why).toHaveLength(4);
    expect(() => wqxXml({ ...exampleFacts, organization: { identifier: long, name: 'x' } })).toThrow(
      /OrganizationIdentifier has 56/,
    );
  });

  it('is well-formed whatever the text, and gives it back', () => {
    const bad = ']]><x a="1">&amp;\'"\u0000\u0001\ud800\ufffe\r\nnext 漢😀 =1+1';
    const shown = [...bad].map((one) => ('\u0000\u0001\ud800\ufffe'.includes(one) ? '\ufffd' : one)).join('');
    const facts = withActivities({
      ...sample,
      comment: bad,
      identifier: 'a&b<c>',
      results: [{ ...benzene, comment: bad }],
    });
    expect(texts(facts, 'ActivityCommentText')).toEqual([shown]);
    expect(texts(facts, 'ResultCommentText')).toEqual([shown]);
    expect(texts(facts, 'ActivityIdentifier')).toEqual(['a&b<c>']);
  });

  it('is read back from CSV equal to the XML, one line a result', () => {
    const { results, locations, notExported } = wqxCsv(exampleFacts);
    expect(notExported).toEqual([]);
    const [heading = [], ...rows] = readCsv(results);
    const cell = (row: number, path: string) => rows[row]?.[heading.indexOf(path)];
    expect(rows).toHaveLength(3);
    expect(new Set(heading).size).toBe(heading.length);
    expect(cell(0, 'ResultDescription/ResultMeasure/ResultMeasureValue')).toBe('-112.5');
    expect(cell(0, 'ActivityStartTime/TimeZoneCode')).toBe('EDT');
    expect(cell(2, 'ProjectIdentifier')).toBe('26-041; 26-042');
    expect(
      cell(2, 'ResultLabInformation/ResultDetectionQuantitationLimit/DetectionQuantitationLimitMeasure/MeasureValue'),
    ).toBe('1');
    const told = rows
      .flat()
      .filter((text) => text !== '')
      .flatMap((text) => text.split('; '));
    const inXml = allOf(readXml(wqxXml(exampleFacts).xml), 'Activity').flatMap(leaves);
    for (const text of inXml) expect(told).toContain(text);
    const [names = [], well = []] = readCsv(locations);
    expect(well[names.indexOf('MonitoringLocationGeospatial/LongitudeMeasure')]).toBe('-81.69340');
  });

  it('keeps an activity without results, and text that begins a formula does no harm', () => {
    const { results } = wqxCsv(withActivities({ ...purge, comment: '=1+1', results: [] }));
    const [heading = [], ...rows] = readCsv(results);
    expect(rows).toHaveLength(1);
    expect(rows[0]?.[heading.indexOf('ActivityCommentText')]).toBe("'=1+1");
  });

  it('tells local time only where the list has the zone: the same letters mean other hours elsewhere', () => {
    const at = '2026-01-15T12:00:00Z';
    const told = (timeZone: string, when = at) => wqxTime({ at: when, timeZone });
    expect(told('America/Denver')).toEqual({ date: '2026-01-15', time: { Time: '05:00:00', TimeZoneCode: 'MST' } });
    expect(told('America/Anchorage').time).toEqual({ Time: '03:00:00', TimeZoneCode: 'AKST' });
    expect(told('America/Anchorage', '2026-07-15T12:00:00Z').time).toEqual({ Time: '12:00:00', TimeZoneCode: 'UTC' });
    expect(told('Asia/Shanghai').time).toEqual({ Time: '12:00:00', TimeZoneCode: 'UTC' });
    expect(told('America/New_York', '2026-11-01T05:30:00Z').time).toEqual({ Time: '01:30:00', TimeZoneCode: 'EDT' });
    expect(told('America/New_York', '2026-11-01T06:30:00Z').time).toEqual({ Time: '01:30:00', TimeZoneCode: 'EST' });
  });

  it('knows no element that the schema does not have', () => {
    expect(() => shape(ORGANIZATION, { Nickname: 'x' })).toThrow(/has no part Nickname/);
    expect(() => shape(ORGANIZATION, 'x')).toThrow(/has parts and no text/);
    expect(reading.of).toEqual({ quantity: 'orpMv' });
  });
});

function leaves(element: XmlElement): readonly string[] {
  return element.children.length === 0 ? [element.text] : element.children.flatMap(leaves);
}
