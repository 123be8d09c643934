import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import type { Draft } from '../../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../../support/visit-drafts.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let dashboard: RestClient;
let purge: string;

/** The lone well: screen from 30 ft. Water that falls 0.05 ft a minute and values on their way to rest. */
function runningPurge(ids: { visit: string; purge: string }): Draft[] {
  const { firm } = t;
  const level = { visit: ids.visit, state: 'measured', observed: firm.observed(minute(-5)) };
  const setUp = { visit: ids.visit, pump: firm.ids.pump, intakeDepthFt: '35.0', observed: firm.observed(minute(-4)) };
  const readings = [0, 1, 2, 3, 4].map((at) =>
    readingDraft(firm, ids.purge, 5 * at, {
      depthToWaterFt: (27 + 0.25 * at).toFixed(2),
      ph: ['7.82', '7.55', '7.39', '7.27', '7.18'][at],
      turbidityNtu: ['64', '41', '27', '18', '12.4'][at],
    }),
  );
  return [
    { kind: 'water-level', id: v7(), set: { ...level, purpose: 'before-purge', depthToWaterFt: '26.90' } },
    { kind: 'pump-set-up', id: v7(), set: setUp },
    ...readings,
  ];
}

beforeAll(async () => {
  t = await testApp();
  dashboard = new RestClient(t, await t.token('dashboard'));
  const crew = await t.firm.client('crew', t.firm.ids.phone);
  const { ids, drafts } = visitDrafts(t.firm);
  const outcomes = await crew.push(...drafts, ...runningPurge(ids));
  expect(outcomes.map(({ outcome }) => outcome)).not.toContain('refused');
  purge = ids.purge;
});
afterAll(() => t.close());

describe('GET /purges/ID/forecast', () => {
  it('foresees the parameters and the level from what is stored', async () => {
    const { status, body } = await dashboard.get(`/purges/${purge}/forecast?marginFt=1.0`);
    expect(status).toBe(200);
    expect(body).toMatchObject({ purge, criteria: 'epa-region-1-low-stress-rev-4', latestReadingAt: minute(20) });
    expect(body.stabilization).toMatchObject({ refused: null, horizonMin: '60', intervalMin: '5' });
    const statuses = Object.fromEntries(
      body.stabilization.parameters.map((one: { parameter: string; status: string }) => [one.parameter, one.status]),
    );
    expect(statuses).toEqual({
      temperature: 'already-met',
      ph: 'forecast',
      'specific-conductance': 'already-met',
      'dissolved-oxygen': 'already-met',
      orp: 'already-met',
      turbidity: 'forecast',
    });
    expect(body.stabilization.together).toMatchObject({ status: 'forecast' });
    // 28.00 ft at 20 min; 29.0 ft is 1 ft below, at 0.05 ft a minute
    expect(body.levels).toMatchObject({ direction: 'falling', fallFtPerMin: '0.0500', levels: 5, refused: null });
    expect(body.levels.arrivals).toMatchObject([
      { at: 'screen-top', depthFt: '29.0', minutes: '20' },
      { at: 'intake', depthFt: '34.0', minutes: '120' },
    ]);
  });

  it('says the same when it is asked again, and looks as far ahead as it is told', async () => {
    const first = await dashboard.get(`/purges/${purge}/forecast`);
    expect((await dashboard.get(`/purges/${purge}/forecast`)).text).toBe(first.text);
    const near = await dashboard.get(`/purges/${purge}/forecast?withinMin=5`);
    expect(near.body.stabilization.horizonMin).toBe('5');
    expect((await dashboard.get(`/purges/${purge}/forecast?withinMin=0`)).status).toBe(400);
    expect((await dashboard.get(`/purges/${purge}/forecast?marginFt=much`)).status).toBe(400);
  });

  it('is there for the crew that follows the event, and for nobody who does not', async () => {
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.get(`/purges/${purge}/forecast`)).status).toBe(200);
    const missing = await dashboard.get(`/purges/${t.firm.ids.lone}/forecast`);
    expect([missing.status, missing.body.code]).toEqual([404, 'record_missing']);
  });

  it('is not there for a purge that was voided, and says what lacks where nothing was read', async () => {
    const crew = await t.firm.client('crew', t.firm.ids.phone);
    const { ids, drafts } = visitDrafts(t.firm);
    await crew.push(...drafts);
    const { body } = await dashboard.get(`/purges/${ids.purge}/forecast`);
    expect(body).toMatchObject({ latestReadingAt: null, stabilization: { parameters: [], together: null } });
    expect(body.stabilization.refused).toBe('No reading was recorded yet.');
    expect(body.levels.refused).toContain('0 levels are too few');
    await crew.push({ verb: 'void', kind: 'purge', id: ids.purge, base: { rev: 1 }, reason: 'wrong well' });
    const voided = await dashboard.get(`/purges/${ids.purge}/forecast`);
    expect([voided.status, voided.body.detail]).toEqual([404, expect.stringContaining('is void')]);
  });
});
