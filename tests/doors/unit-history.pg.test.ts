import type { GraphQLField, GraphQLObjectType, GraphQLOutputType } from 'graphql';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../src/doors/graphql/schema.ts';
import { elementsOf } from '../documents/svg/well-formed.ts';
import { statementsOf } from '../reads/statements.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { clock, deconDrafts, pumpedDrafts, resultDraft } from '../support/unit-drafts.ts';
import { ask } from './graphql/ask.ts';
import { asAnswered, withoutNulls } from './graphql/graph-values.ts';
import { graphql } from './graphql/graphql-of-mercurius.ts';
import { RestClient } from './rest/rest-client.ts';

type Fields = Readonly<Record<string, unknown>>;

const schema = graphSchema();
let t: TestApp;
let office: string;
let rest: RestClient;
let crewRest: RestClient;
let crewToken: string;
/** Events: the crew follows the first alone. */
const otherEvent = v7();
const blank = v7();
const cleanBlank = v7();
const part = v7();
let decon: string;
let halfDecon: string;
const samples: Record<string, string> = {};

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

/**
 * A pump at four wells. Cleaned before the first and after the second; nothing between the first two, and half a cleaning
 * between the third and the fourth. A blank through it fails, one on the day before was clean.
 */
async function work(): Promise<void> {
  const { firm } = t;
  const { pump, lone, shallow, deep, north, event, site } = firm.ids;
  const before = deconDrafts(firm, pump, '07:00');
  const after = deconDrafts(firm, pump, '10:40');
  const half = deconDrafts(firm, pump, '12:40', false);
  [decon, halfDecon] = [after.id, half.id];
  const at = (well: string, from: string, number: string, of = event) => {
    const { ids, drafts } = pumpedDrafts(firm, { well, pump, from, number, event: of });
    samples[number] = ids.sample;
    return drafts;
  };
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: '2026-05-03', ends: '2026-05-03', standing: 'open' };
  const blankOf = (id: string, number: string, collected: string): Draft => ({
    kind: 'blank',
    id,
    set: { event, type: 'equipment', number, unit: pump, collected: clock(collected), suites: ['VOC'] },
  });
  await push([
    { kind: 'event', id: otherEvent, set: { site, name: 'Round before', ...dates, plan } },
    ...at(lone, '05-03 09:00', 'S-0', otherEvent),
    ...before.drafts,
    blankOf(cleanBlank, 'EB-1', '07:40'),
    {
      kind: 'sign-out',
      set: { unit: pump, crew: north, from: clock('06:30'), observed: firm.observed(clock('06:30')) },
    },
    { kind: 'part', id: part, set: { type: 'tubing', label: 'Reel 7', lot: 'T-7', material: 'polyethylene' } },
    {
      kind: 'part-change',
      set: { unit: pump, part, action: 'installed', observed: firm.observed(clock('07:45')) },
    },
    ...at(lone, '08:00', 'S-1'),
    ...at(shallow, '10:00', 'S-2'),
    ...after.drafts,
    ...at(deep, '12:00', 'S-3'),
    ...half.drafts,
    ...at(lone, '14:00', 'S-4'),
    blankOf(blank, 'EB-2', '16:00'),
    {
      kind: 'unit-service',
      set: { unit: pump, type: 'inspected', result: 'pass', observed: firm.observed(clock('17:00')) },
    },
  ]);
  await push([
    resultDraft(firm, { blank: cleanBlank }, null),
    resultDraft(firm, { blank }, '0.8'),
    resultDraft(firm, { sample: samples['S-0'] ?? '' }, '900', otherEvent),
    resultDraft(firm, { sample: samples['S-1'] ?? '' }, '4.1'),
    resultDraft(firm, { sample: samples['S-2'] ?? '' }, '3.0'),
    resultDraft(firm, { sample: samples['S-3'] ?? '' }, null),
    resultDraft(firm, { sample: samples['S-4'] ?? '' }, '4.0'),
  ]);
}

beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  rest = new RestClient(t, office);
  crewToken = await t.token('crew', t.firm.ids.phone);
  crewRest = new RestClient(t, crewToken);
  await work();
});
afterAll(() => t.close());

function fieldOf(type: string, name: string): GraphQLField<unknown, unknown> {
  const field = (schema.getType(type) as GraphQLObjectType).getFields()[name];
  if (!field) throw new Error(`${type} has no field ${name}`);
  return field;
}

function isRecord(type: GraphQLOutputType): boolean {
  const named = graphql.getNamedType(type);
  return graphql.isObjectType(named) && named.getInterfaces().some(({ name }) => name === 'Record');
}

/** Everything that an answer can tell, records by their ids. */
function selection(type: GraphQLOutputType): string {
  const named = graphql.getNamedType(type);
  if (!graphql.isObjectType(named)) return '';
  const fields = Object.values(named.getFields()).filter((field) => !isRecord(field.type));
  return `{ ${fields.map((field) => `${field.name} ${selection(field.type)}`).join(' ')} }`;
}

/** `wellId` of GraphQL is `well` of REST, where that names a record. */
function byIds(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(byIds);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [name.replace(/(?<=[a-z])Id$/, ''), byIds(inner)]),
  );
}

async function byGraph(of: string, id: string, name: string, args = '', secret = office): Promise<unknown> {
  const { type } = fieldOf(of, name);
  const root = of.toLowerCase();
  const query = `query ($id: ID!) { ${root}(id: $id) { ${name}${args} ${selection(type)} } }`;
  const answer = await ask<Record<string, Record<string, unknown> | null>>(t, secret, query, { id });
  expect(answer.errors).toEqual([]);
  const told = answer.data?.[root]?.[name];
  return told ? withoutNulls(byIds(asAnswered(told, type))) : told;
}

const get = async (path: string, client = rest): Promise<Fields> => {
  const { status, body } = await client.get(path);
  expect([status, status === 200 ? null : body]).toEqual([200, null]);
  return body;
};

describe('the trail from a unit, a sample and a blank is the same by REST and GraphQL', () => {
  it.each([
    ['state', 'state', ''],
    ['states', 'states', ''],
    ['timeline', 'timeline', ''],
    ['timeline?limit=2', 'timeline', '(limit: 2)'],
    ['trail', 'trail', ''],
    ['trail?from=2026-05-04&until=2026-05-04', 'trail', '(from: "2026-05-04", until: "2026-05-04")'],
  ])('unit: %s', async (path, name, args) => {
    const { pump } = t.firm.ids;
    expect(await byGraph('Unit', pump, name, args)).toEqual(withoutNulls(await get(`/units/${pump}/${path}`)));
  });

  it('sample and blank', async () => {
    for (const sample of Object.values(samples))
      expect(await byGraph('Sample', sample, 'trail')).toEqual(withoutNulls(await get(`/samples/${sample}/trail`)));
    const told = await byGraph('Blank', blank, 'samplesBehind', '(limit: 2, analyte: "127-18-4")');
    expect(told).toEqual(withoutNulls(await get(`/blanks/${blank}/samples?limit=2&analyte=127-18-4`)));
  });

  it('goes on from what is named to the records of it', async () => {
    const query = `query ($id: ID!) { unit(id: $id) { state { sentence } timeline(limit: 1) { items { what } } trail {
      samples { sample { number laboratoryResults(first: 1) { nodes { analyte } } } well { site { name } } }
      carriedOver { samples { sample { number } } } } } }`;
    const { result, sent } = await statementsOf(() => ask<Fields>(t, office, query, { id: t.firm.ids.pump }));
    expect(result.errors).toEqual([]);
    expect(JSON.stringify(result.data)).toContain('Old Depot');
    expect(sent.filter((text) => text.includes('moved_steps')).length).toBe(1);
  });
});

describe('what is told of a unit', () => {
  it('is where it stands, with the record that put it there', async () => {
    const state = await get(`/units/${t.firm.ids.pump}/state`);
    expect(state).toMatchObject({ state: 'used', since: clock('14:30'), well: null, because: { kind: 'visit' } });
    const { items } = (await get(`/units/${t.firm.ids.pump}/states`)) as { items: Fields[] };
    expect(items.map((one) => one.state)).toEqual(
      ['used', 'in-a-well', 'being-cleaned', 'used', 'in-a-well', 'clean', 'being-cleaned', 'used', 'in-a-well'].concat(
        'used',
        'in-a-well',
        'clean',
        'being-cleaned',
        'used',
        'in-a-well',
        'unknown',
      ),
    );
    const { until: _, ...present } = items[0] ?? {};
    expect(state).toEqual({ unit: t.firm.ids.pump, ...present });
  });

  it('of a unit without a history is what it is', async () => {
    expect(await get(`/units/${t.firm.ids.otherPump}/state`)).toMatchObject({ state: 'unknown', since: null });
    expect(await get(`/units/${t.firm.ids.otherPump}/timeline`)).toEqual({ items: [], next: null, outOfSight: 0 });
    expect(await get(`/units/${t.firm.ids.otherPump}/trail`)).toMatchObject({ wells: [], label: 'Pump B' });
  });

  it('is everything that it touched, and what came into a well with the water of another', async () => {
    const trail = (await get(`/units/${t.firm.ids.pump}/trail`)) as Record<string, Fields[]>;
    expect(trail.wells?.map((one) => one.wellName)).toEqual(['W-1', 'W-1', 'W-4S', 'W-4D', 'W-1']);
    expect(trail.decons?.map((one) => one.isClean)).toEqual([true, true, false]);
    expect(trail.rinsates).toMatchObject([
      { number: 'EB-1', standing: 'clean' },
      { number: 'EB-2', standing: 'failed' },
    ]);
    expect(trail.samples?.map((one) => one.number)).toEqual(['S-0', 'S-1', 'S-2', 'S-3', 'S-4']);
    expect(trail.parts).toMatchObject([{ name: 'Reel 7', type: 'tubing', until: null, endedBy: null, otherUnits: [] }]);
    const carried = trail.carriedOver as unknown as Record<string, Fields[]>[];
    expect(carried).toMatchObject([
      { wellName: 'W-4S', decon: null, samples: [{ number: 'S-2', standing: 'in-question' }] },
      { wellName: 'W-1', decon: halfDecon, samples: [{ number: 'S-4', standing: 'cleared' }] },
    ]);
  });

  it('comes in parts that make the whole', async () => {
    const { pump } = t.firm.ids;
    const whole = (await get(`/units/${pump}/timeline`)) as { items: Fields[] };
    const parts: Fields[] = [];
    for (let next: unknown = ''; next !== null; ) {
      const cursor = next === '' ? '' : `&cursor=${String(next)}`;
      const part = (await get(`/units/${pump}/timeline?limit=3${cursor}`)) as { items: Fields[]; next: string | null };
      expect(part.items.length).toBeLessThanOrEqual(3);
      parts.push(...part.items);
      ({ next } = part);
    }
    expect(parts).toEqual(whole.items);
    expect(whole.items.map((one) => one.sentence)).toContain('Equipment blank EB-2: failed');
    expect((await rest.get(`/units/${pump}/states?cursor=no-cursor`)).body.code).toBe('bad_request');
    expect((await rest.get(`/units/${pump}/timeline?limit=0`)).body.code).toBe('bad_request');
  });

  it('is a picture too, in the zone of the site', async () => {
    const { status, text, headers } = await rest.get(`/units/${t.firm.ids.pump}/timeline.svg?from=2026-05-04`);
    expect([status, headers['content-type']]).toEqual([200, 'image/svg+xml; charset=utf-8']);
    expect(String(headers['content-security-policy'])).toContain("default-src 'none'");
    const told = elementsOf(text).map((element) => element.text);
    expect(told).toContain('Pump A, bladder pump');
    expect(told.join('\n')).toContain('Times in America/Chicago (UTC-05:00)');
    for (const word of ['W-4D', 'North crew', 'Reel 7', 'EB-2', 'not complete']) expect(told).toContain(word);
    expect((await rest.get(`/units/${t.firm.ids.pump}/timeline.svg?from=May`)).status).toBe(400);
    const turned = await rest.get(`/units/${t.firm.ids.pump}/timeline.svg?from=2026-12-01&until=2026-11-01`);
    expect([turned.status, turned.body?.detail ?? turned.text]).toEqual([
      400,
      expect.stringContaining('from is 2026-12-01 and until is 2026-11-01'),
    ]);
  });
});

describe('what is told of a sample and of a blank', () => {
  it('is the standing of a sample with its reason, and the gear behind it', async () => {
    const trailOf = async (number: string) => get(`/samples/${samples[number]}/trail`);
    const second = await trailOf('S-2');
    expect(second).toMatchObject({ standing: 'in-question', wellName: 'W-4S' });
    const behind = second.behind as Fields[];
    expect(behind.map((one) => (one.carrier as Fields).name)).toEqual(['Pump A', 'Reel 7']);
    expect(behind[0]).toMatchObject({ isClean: false, foundIn: 'used', wellBeforeName: 'W-1', decons: [] });
    expect(await trailOf('S-3')).toMatchObject({
      standing: 'cleared',
      behind: [{ isClean: true, decons: [decon] }, {}],
    });
    expect(await trailOf('S-4')).toMatchObject({ standing: 'in-question', blanks: [{ number: 'EB-2' }] });
  });

  it('is which samples a failed blank puts in question: five times the blank, that figure itself included', async () => {
    const told = (await get(`/blanks/${blank}/samples`)) as { analytes: { samples: Fields[] }[] };
    expect(told).toMatchObject({
      standing: 'failed',
      analytes: [{ analyte: 'Tetrachloroethene', inQuestion: 2, cleared: 2, cannotTell: 0, lastClean: cleanBlank }],
    });
    const standings = told.analytes[0]?.samples.map((one) => [one.number, one.standing]);
    expect(standings).toEqual([
      ['S-2', 'in-question'],
      ['S-4', 'in-question'],
      ['S-1', 'cleared'],
      ['S-3', 'cleared'],
    ]);
    expect(await get(`/blanks/${blank}/samples?analyte=benzene`)).toMatchObject({ analytes: [] });
    expect(await get(`/blanks/${blank}/samples?limit=1`)).toMatchObject({ analytes: [{ leftOut: 3, inQuestion: 2 }] });
    expect(await get(`/blanks/${cleanBlank}/samples`)).toMatchObject({ standing: 'clean', analytes: [] });
  });
});

describe('who may be told', () => {
  it('a crew sees of a unit what lies in the events that it follows, and how much more there is', async () => {
    const { pump } = t.firm.ids;
    const trail = (await get(`/units/${pump}/trail`, crewRest)) as Record<string, Fields[]>;
    expect(trail.samples?.map((one) => one.number)).toEqual(['S-1', 'S-2', 'S-3', 'S-4']);
    expect(trail.outOfSight).toBe(2);
    expect(await get(`/units/${pump}/timeline`, crewRest)).toMatchObject({ outOfSight: 1 });
    const { text } = await crewRest.get(`/units/${pump}/timeline.svg`);
    // where it stood then is told to the whole firm, as the record of its state is; what was done there is not
    expect(text).not.toContain('down the well\n2026-05-03');
    expect(text).toContain('down the well\n2026-05-04');
    expect(await byGraph('Unit', pump, 'trail', '', crewToken)).toEqual(withoutNulls(trail));
    expect((await crewRest.get(`/samples/${samples['S-0']}/trail`)).body.code).toBe('record_missing');
    expect(await get(`/samples/${samples['S-1']}/trail`, crewRest)).toMatchObject({
      behind: [{ wellBefore: null, wellBeforeName: null }, {}],
    });
  });

  it('of another firm nothing is there', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const client = new RestClient(t, await t.token('admin', null, other));
    const { pump } = t.firm.ids;
    const paths = ['state', 'states', 'timeline', 'timeline.svg', 'trail'].map((one) => `/units/${pump}/${one}`);
    for (const path of [...paths, `/samples/${samples['S-1']}/trail`, `/blanks/${blank}/samples`])
      expect((await client.get(path)).body).toMatchObject({ code: 'record_missing' });
  });
});

describe('the statements', () => {
  it('are as many after 200 more visits as before', async () => {
    const { firm } = t;
    const { lone, deep, otherPump } = firm.ids;
    const paths = ['state', 'states', 'timeline', 'timeline.svg', 'trail'].map((one) => `/units/${otherPump}/${one}`);
    const sentFor = async (all: readonly string[]) => {
      const counts: number[] = [];
      for (const path of all) {
        const { result, sent } = await statementsOf(() => rest.get(path));
        expect(result.status).toBe(200);
        counts.push(sent.filter((text) => !text.includes('from token t where t.hash')).length);
      }
      return counts;
    };
    const turn = (number: number) => {
      const day = `05-${String(6 + Math.floor(number / 10)).padStart(2, '0')}`;
      const from = `${day} ${String(6 + (number % 10)).padStart(2, '0')}:00`;
      return pumpedDrafts(firm, { well: number % 2 ? lone : deep, pump: otherPump, from, number: `T-${number}` });
    };
    const first = turn(0);
    const rinsate = v7();
    const set = {
      type: 'equipment',
      number: 'EB-9',
      unit: otherPump,
      collected: clock('05-28 08:00'),
      suites: ['VOC'],
    };
    await push([...first.drafts, { kind: 'blank', id: rinsate, set: { event: firm.ids.event, ...set } }]);
    await push([resultDraft(firm, { blank: rinsate }, '1.0'), resultDraft(firm, { sample: first.ids.sample }, '2.0')]);
    const asked = [...paths, `/samples/${first.ids.sample}/trail`, `/blanks/${rinsate}/samples`];
    await sentFor(asked);
    await push([...turn(1).drafts]);
    const few = await sentFor(asked);
    for (let from = 2; from < 202; from += 50)
      await push(Array.from({ length: 50 }, (_, at) => turn(from + at).drafts).flat());
    const many = await sentFor(asked);
    expect(many).toEqual(few);
    expect(Math.max(...many)).toBeLessThanOrEqual(9);
    const trail = (await get(`/units/${otherPump}/trail`)) as Record<string, Fields[]>;
    expect(trail.wells).toHaveLength(202);
  }, 120_000);
});

describe('what a sample and its unit are told of one passage', () => {
  it('is the same where the blank that clears it is clean of more than the one that failed was looked at for', async () => {
    const { firm } = t;
    const { lone, shallow, event } = firm.ids;
    const [pump, between, after] = [v7(), v7(), v7()];
    const first = pumpedDrafts(firm, { well: lone, pump, from: '06-01 08:00', number: 'U-1' });
    const second = pumpedDrafts(firm, { well: shallow, pump, from: '06-01 10:30', number: 'U-2' });
    const blankOf = (id: string, number: string, time: string): Draft => {
      const collected = clock(`06-01 ${time}`);
      return { kind: 'blank', id, set: { event, type: 'equipment', number, unit: pump, collected, suites: ['VOC'] } };
    };
    const benzene = (of: Parameters<typeof resultDraft>[1], found: string | null): Draft => {
      const { kind, set } = resultDraft(firm, of, found);
      return { kind, set: { ...set, analyte: 'Benzene', casNumber: '71-43-2' } };
    };
    const unit = { type: 'submersible-pump', label: 'Pump U', use: 'shared', ownership: 'owned' };
    await push([
      { kind: 'unit', id: pump, set: unit },
      ...deconDrafts(firm, pump, '06-01 07:00').drafts,
      ...first.drafts,
      blankOf(between, 'EB-U1', '10:00'),
      ...second.drafts,
      blankOf(after, 'EB-U2', '16:00'),
    ]);
    const [one, two] = [first.ids.sample, second.ids.sample];
    await push([
      benzene({ sample: one }, '50'),
      benzene({ blank: between }, null),
      resultDraft(firm, { blank: between }, null),
      benzene({ sample: two }, '1.0'),
      resultDraft(firm, { sample: two }, null),
      resultDraft(firm, { blank: after }, '0.8'),
    ]);
    const ofUnit = (await get(`/units/${pump}/trail`)) as Record<string, Fields[]>;
    const ofSample = await get(`/samples/${two}/trail`);
    expect(ofUnit.carriedOver).toMatchObject([{ samples: [{ sample: two, standing: 'cleared' }] }]);
    expect(ofSample).toMatchObject({ standing: 'cleared', blanks: [{ number: 'EB-U2', standing: 'cleared' }] });
    expect(ofSample.carriedOver).toEqual(ofUnit.carriedOver);
  });
});
