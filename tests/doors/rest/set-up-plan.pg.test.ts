import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { storedPlanInput } from '../../../src/rules/pump-set-up/stored-plan-input.ts';
import { inRead } from '../../../src/store/read/transaction.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { type TestClient, TestFirm } from '../../support/test-firm.ts';
import { minute, visitDrafts } from '../../support/visit-drafts.ts';
import { ask } from '../graphql/ask.ts';
import { RestClient } from './rest-client.ts';

const parts = { tubing: v7(), fitting: v7(), regulator: v7(), pump: v7(), bare: v7(), cell: v7() };
const asked = {
  pumpingDepthToWaterFt: '32.0',
  productOrVapour: false,
  waterTemperatureC: '12.0',
  altitudeFt: '500',
  suites: ['metals'],
};
const PLAN = `refused intakeFt drivePressures { rule fromPsi toPsi } lowestRatedPart lowestRatedPsi ratingsToRecord
  missing taken { field figure kind record at }`;

let t: TestApp;
let crew: RestClient;
let office: RestClient;
let phone: TestClient;
let crewToken: string;

function unit(id: string, type: string, label: string, more: object = {}) {
  return { kind: 'unit', id, set: { type, label, use: 'shared', ownership: 'owned', ...more } };
}

beforeAll(async () => {
  t = await testApp();
  const { ids } = t.firm;
  crewToken = await t.token('crew', ids.phone);
  [crew, office] = [new RestClient(t, crewToken), new RestClient(t, await t.token('coordinator'))];
  phone = await t.firm.client('crew', ids.phone);
  const rated = (psi: string) => ({ maximumPressurePsi: psi });
  const pump = { outsideDiameterIn: '1.66', maximumDepthFt: '200', insideVolumeMl: '150', ...rated('120') };
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(
    unit(parts.pump, 'bladder-pump', 'P-1', pump),
    unit(parts.bare, 'bladder-pump', 'P-2'),
    unit(parts.tubing, 'tubing', 'T-1', rated('100')),
    unit(parts.fitting, 'fitting', 'F-1', rated('150')),
    unit(parts.regulator, 'regulator', 'R-1', rated('125')),
    unit(parts.cell, 'flow-cell', 'C-1', { flowCellVolumeMl: '250' }),
  );
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(outcomes.map(() => 'applied'));
});
afterAll(() => t.close());

function plan(client: RestClient, well: string, more: object = {}) {
  return client.post(`/wells/${well}/pump-set-up-plan`, { ...asked, ...more });
}

async function planByGraph(token: string, well: string, more: object = {}) {
  const query = `query ($id: ID!, $input: WellPumpSetUpPlanInput!) { well(id: $id) { pumpSetUpPlan(input: $input) { ${PLAN} } } }`;
  const input = { ...asked, ...more };
  return ask<{ well: { pumpSetUpPlan: Record<string, unknown> } | null }>(t, token, query, { id: well, input });
}

describe('a set-up plan for a well on record', () => {
  it('is refused while no level is on record, and says what to do', async () => {
    const { status, body } = await plan(crew, t.firm.ids.lone);
    expect([status, body.intakeFt]).toEqual([200, null]);
    expect(body.refused).toContain('measure it, and give staticDepthToWaterFt');
    expect((await plan(crew, t.firm.ids.lone, { staticDepthToWaterFt: '31.20' })).body.refused).toBeNull();
    const { body: unsized } = await plan(office, t.firm.ids.deep, { staticDepthToWaterFt: '31.20' });
    expect(unsized.refused).toContain('no casingInsideDiameterIn');
  });

  it('takes the latest level, sounding and intake that are on record, and the record of the well', async () => {
    const { lone, pump } = t.firm.ids;
    const { ids, drafts } = visitDrafts(t.firm);
    const level = (at: number, depthToWaterFt: string, more: object = {}) => {
      const observed = t.firm.observed(minute(at));
      const set = { visit: ids.visit, purpose: 'before-purge', state: 'measured', depthToWaterFt, observed, ...more };
      return { kind: 'water-level', id: v7(), set };
    };
    const latest = level(-10, '31.20');
    const sounding = { visit: ids.visit, depthToBottomFt: '39.6', observed: t.firm.observed(minute(-8)) };
    const setUp = { visit: ids.visit, pump, intakeDepthFt: '36.5', observed: t.firm.observed(minute(-5)) };
    await phone.push(
      ...drafts,
      latest,
      level(-20, '31.90'),
      level(5, '31.95', { purpose: 'pumping' }),
      level(-2, '30.00', { state: 'obstructed' }),
      { kind: 'sounding', set: sounding },
      { kind: 'pump-set-up', set: setUp },
    );
    const { status, body } = await plan(crew, lone);
    expect([status, body.refused, body.intakeFt]).toEqual([200, null, '36.5']);
    expect(body.taken).toContainEqual({
      field: 'staticDepthToWaterFt',
      figure: '31.20',
      kind: 'water-level',
      record: latest.id,
      at: minute(-10),
    });
    const rows = body.taken.map(({ field, figure, kind }: Record<string, string>) => `${field} ${figure} ${kind}`);
    expect(rows).toEqual([
      'casingInsideDiameterIn 2.067 well',
      'totalDepthFt 40 well',
      'screenTopFt 30 well',
      'screenBottomFt 40 well',
      'staticDepthToWaterFt 31.20 water-level',
      'soundedDepthFt 39.6 sounding',
      'lastIntakeFt 36.5 pump-set-up',
    ]);
    expect(body.cautions[0]).toContain(`31.20 ft is of ${minute(-10)}: measure it again`);
  });

  it('is the same through GraphQL', async () => {
    const { lone } = t.firm.ids;
    for (const more of [{}, { units: Object.values(parts) }, { staticDepthToWaterFt: '30.00' }]) {
      const { body } = await plan(crew, lone, more);
      const { data, errors } = await planByGraph(crewToken, lone, more);
      expect(errors).toEqual([]);
      const byGraph = data.well?.pumpSetUpPlan ?? {};
      expect(body).toMatchObject(byGraph);
      expect(Object.keys(byGraph)).toContain('ratingsToRecord');
    }
  });

  it('takes the summary of a visit that a crew does not follow any more', async () => {
    const { lone, site } = t.firm.ids;
    const admin = await t.firm.client('admin');
    const event = v7();
    const plan2025 = { criteria: 'epa-region-1-low-stress-rev-4' };
    const dates = { starts: '2025-10-06', ends: '2025-10-07' };
    const past = { site, name: 'Last round', ...dates, standing: 'closed', plan: plan2025 };
    await admin.push({ kind: 'event', id: event, set: past });
    const other = await t.firm.client('coordinator');
    const visit = v7();
    const arrived = '2025-10-06T09:00:00-05:00';
    const observed = t.firm.observed('2025-10-06T09:05:00-05:00');
    const level = { visit, purpose: 'synoptic', state: 'measured', depthToWaterFt: '12.34', observed };
    const { shallow, south } = t.firm.ids;
    const left = '2025-10-06T10:00:00-05:00';
    const visited = { event, well: shallow, crew: south, method: 'gauging', arrived, left, outcome: 'gauged-only' };
    await other.push({ kind: 'visit', id: visit, set: visited }, { kind: 'water-level', set: level });
    const sized = { casingInsideDiameterIn: '2.067', pumpingDepthToWaterFt: '13.0' };
    const seen = await plan(crew, shallow, sized);
    expect(seen.body.taken).toContainEqual(
      expect.objectContaining({ field: 'staticDepthToWaterFt', figure: '12.34', kind: 'visit-summary', at: arrived }),
    );
    const byOffice = await plan(office, shallow, sized);
    expect(byOffice.body.taken).toContainEqual(expect.objectContaining({ figure: '12.34', kind: 'water-level' }));
    expect(lone).not.toBe(shallow);
  });

  it('takes neither an intake that was moved since nor a level below a former measuring point', async () => {
    const { deep, north, event } = t.firm.ids;
    const admin = await t.firm.client('admin');
    const visit = v7();
    const purge = v7();
    const fields = { event, well: deep, crew: north, method: 'low-flow', arrived: minute(0) };
    const seen = (at: number) => t.firm.observed(minute(at));
    const setUp = { visit, pump: t.firm.ids.pump, intakeDepthFt: '51.5', observed: seen(2) };
    await admin.push(
      { kind: 'visit', id: visit, set: fields },
      { kind: 'pump-set-up', set: setUp },
      { kind: 'purge', id: purge, set: { visit, began: minute(3) } },
    );
    const sized = { casingInsideDiameterIn: '2.067', staticDepthToWaterFt: '12.00', pumpingDepthToWaterFt: '13.0' };
    const takes = async () => {
      const { body } = await plan(office, deep, sized);
      return body.taken.map(({ field, figure }: Record<string, string>) => `${field} ${figure}`);
    };
    expect(await takes()).toContain('lastIntakeFt 51.5');
    const moved = { kind: 'occurrence', id: v7(), set: { purge, type: 'intake-moved', observed: seen(10) } };
    await admin.push(moved);
    expect((await takes()).join()).not.toContain('lastIntakeFt');
    await admin.push({ kind: 'pump-set-up', set: { ...setUp, intakeDepthFt: '49.0', observed: seen(12) } });
    expect(await takes()).toContain('lastIntakeFt 49.0');
    const point = (at: number, elevationFt: string) => ({
      kind: 'measuring-point',
      set: {
        well: deep,
        description: 'north rim',
        elevationFt,
        datum: 'NAVD88',
        validFrom: minute(at),
        change: 'casing-changed',
      },
    });
    const outcomes = await admin.push(point(-90_000, '812.40'), point(20, '811.10'));
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'applied']);
    expect((await takes()).join()).not.toContain('lastIntakeFt');
  });

  it('lists among its examples what it answers', async () => {
    for (const example of (storedPlanInput.meta()?.examples ?? []) as object[]) {
      const { status, body } = await crew.post(`/wells/${t.firm.ids.lone}/pump-set-up-plan`, example);
      expect([status, body.refused]).toEqual([200, null]);
    }
  });
});

describe('without ratings no figure, but what to record', () => {
  const { pump, tubing, fitting, regulator } = parts;

  it('through both doors', async () => {
    const all = [pump, tubing, fitting, regulator];
    const { lone } = t.firm.ids;
    const whole = await plan(crew, lone, { units: all });
    expect([whole.body.lowestRatedPart, whole.body.lowestRatedPsi, whole.body.ratingsToRecord]).toEqual([
      'tubing',
      '100',
      [],
    ]);
    expect(whole.body.drivePressures.length).toBe(3);
    for (const { toPsi } of whole.body.drivePressures) expect(Number(toPsi)).toBeLessThanOrEqual(100);
    for (const units of [[], ...all.map((left) => all.filter((one) => one !== left)), [...all, parts.bare]]) {
      const { body } = await plan(crew, lone, { units });
      const graph = await planByGraph(crewToken, lone, { units });
      for (const one of [body, graph.data.well?.pumpSetUpPlan]) {
        expect([one.refused, one.drivePressures, one.lowestRatedPsi]).toEqual([null, [], null]);
        expect(one.ratingsToRecord.length).toBeGreaterThan(0);
      }
    }
  });
});

describe('what a plan asks of the database', () => {
  it('is of the firm and of the feeds of whoever asks', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const stranger = new RestClient(t, await t.token('crew', other.ids.phone, other));
    expect((await plan(stranger, t.firm.ids.lone)).body.code).toBe('record_missing');
    expect((await plan(stranger, other.ids.lone, { units: [parts.pump] })).body).toMatchObject({
      status: 404,
      code: 'record_missing',
      pointer: '/units/0',
    });
    const byGraph = await planByGraph(crewToken, other.ids.lone);
    expect(byGraph.data.well).toBeNull();
  });

  it('is of records that count', async () => {
    const { body } = await office.post('/units', {
      type: 'tubing',
      label: 'T-9',
      use: 'shared',
      ownership: 'owned',
    });
    await office.post(`/units/${body.id}/void`, { reason: 'thrown away' });
    const refused = await plan(crew, t.firm.ids.lone, { units: [parts.tubing, body.id] });
    expect([refused.status, refused.body.pointer]).toEqual([404, '/units/1']);
    expect(refused.body.detail).toContain('is void');
  });

  it('says what it cannot read', async () => {
    const byRest = await plan(crew, t.firm.ids.lone, { altitudeFt: '500 ft' });
    expect([byRest.status, byRest.body.pointer]).toEqual([422, '/altitudeFt']);
    const byGraph = await planByGraph(crewToken, t.firm.ids.lone, { altitudeFt: '500 ft' });
    expect(byGraph.errors[0]?.extensions).toMatchObject({ code: 'unreadable_record', pointer: '/input/altitudeFt' });
  });
});

describe('a unit', () => {
  it('keeps its ratings as they were entered', async () => {
    const { body } = await office.get(`/units/${parts.pump}`);
    expect(body.fields).toMatchObject({
      outsideDiameterIn: '1.66',
      maximumDepthFt: '200',
      maximumPressurePsi: '120',
      insideVolumeMl: '150',
    });
    const text = 'select maximum_pressure_psi from unit where id = $1';
    const { rows } = await inRead(t.db.pool, t.firm.id, (tx) => tx.client.query(text, [parts.pump]));
    expect(rows).toEqual([{ maximum_pressure_psi: '120' }]);
  });
});
