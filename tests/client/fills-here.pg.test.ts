import { afterAll, beforeAll, expect, it } from 'vitest';
import { fillOrderAt, shortWaterAt } from '../../src/client/fills-here.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { RestClient } from '../doors/rest/rest-client.ts';
import { containerDraft, fillDraft, pumpedVisit, sampleDraft, sampleId } from '../support/sample-drafts.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { readingDraft } from '../support/visit-drafts.ts';
import { SimClock } from './fake/phone.ts';
import { serverPhone } from './server-phone.ts';

let server: TestApp;
beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

it('answers as the server does of what it has pulled, and of its own work before it is sent', async () => {
  const { firm } = server;
  const visit = sampleId('v1');
  const groups = [{ group: 'metals-total', filtered: true }];
  const parts = { group: 'metals-total', suite: 'Metals', type: 'bottle', volumeMl: '500', standing: 'expected' };
  const outcomes = await (await firm.client('admin')).push(
    { kind: 'analyte-suite', set: { name: 'Metals', groups, priority: 1 } },
    ...pumpedVisit(firm, 'v1'),
    readingDraft(firm, sampleId('v1 purge'), 10, { flowMlPerMin: '150' }),
    sampleDraft('v1', 'W-1', { suites: ['VOC', 'Metals'] }),
    containerDraft(firm, 'W-1-1', 'W-1'),
    fillDraft(firm, 'W-1-1', 35),
    containerDraft(firm, 'W-1-2', 'W-1', { standing: 'expected' }),
    containerDraft(firm, 'W-1-3', 'W-1', parts),
    ...pumpedVisit(firm, 'v2', { well: firm.ids.deep }),
    sampleDraft('v2', 'W-9'),
    containerDraft(firm, 'W-9-1', 'W-9', { standing: 'expected' }),
  );
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
  const clock = new SimClock();
  const phone = await serverPhone(server, clock, firm.ids.phone);
  const sync = async () => {
    firm.nowMs = clock.nowMs;
    expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });
  };
  const rest = new RestClient(server, await server.token('crew', firm.ids.phone));
  const ofServer = async () => [
    (await rest.get(`/visits/${visit}/fill-order`)).body,
    (await rest.get(`/visits/${visit}/short-water?availableMl=300`)).body,
  ];
  const here = async () => [
    await fillOrderAt(phone.context, visit),
    await shortWaterAt(phone.context, visit, { availableMl: '300' }),
  ];
  await sync();
  expect(await here()).toEqual(await ofServer());
  const fill = { container: sampleId('W-1-2'), visit, collected: clock.wall(), observed: await phone.observed({}) };
  await phone.record('fill', fill);
  const ahead = await here();
  expect(ahead).toMatchObject([{ filledCount: 2, next: sampleId('W-1-3') }, { neededMl: '500' }]);
  await sync();
  expect(await ofServer()).toEqual(ahead);
  expect(await fillOrderAt(phone.context, sampleId('nobody'))).toBeNull();
});
