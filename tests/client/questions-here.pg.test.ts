import { afterAll, beforeAll, expect, it } from 'vitest';
import { forecastHere } from '../../src/client/preview/forecast.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { whichWellHere } from '../../src/client/which-well-here.ts';
import { purgeForecastInput } from '../../src/rules/forecast/purge-forecast-shape.ts';
import { RestClient } from '../doors/rest/rest-client.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';
import { serverPhone } from './server-phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

it('answers without a signal how a purge will go on and which well was sounded, as the server does afterwards', async () => {
  const { ids } = server.firm;
  const phone = await serverPhone(server, clock, ids.phone);
  expect(await syncOnce(phone)).toMatchObject({ problem: null });
  const set = { event: ids.event, well: ids.lone, crew: ids.north, method: 'low-flow', arrived: clock.wall() };
  const visit = (await phone.record('visit', set)).id;
  const purge = (await phone.record('purge', { visit, began: clock.wall() })).id;
  for (const [at, ph] of ['7.82', '7.55', '7.39', '7.27', '7.18'].entries()) {
    clock.pass(300_000);
    const depthToWaterFt = (21 + at * 0.25).toFixed(2);
    const figures = { ph, turbidityNtu: String(60 - at * 9), depthToWaterFt, flowMlPerMin: '200', meter: ids.meter };
    await phone.record('reading', { purge, ...figures, observed: await phone.observed() });
  }
  const asked = purgeForecastInput.parse({});
  const here = await forecastHere(phone, purge, asked);
  const wells = await Promise.all(['25.2', '61.7', '90'].map((depth) => whichWellHere(phone, ids.shallow, depth)));
  expect(wells.map((answer) => answer?.fits)).toEqual(['this', 'other', 'none']);
  await syncOnce(phone);
  const rest = new RestClient(server, await server.token('crew', ids.phone));
  const { body } = await rest.get(`/purges/${purge}/forecast`);
  expect(JSON.parse(JSON.stringify(here))).toEqual(body);
  expect(JSON.stringify(body)).toContain('ph');
  const office = new RestClient(server, await server.token('admin'));
  for (const [at, depthToBottomFt] of ['25.2', '61.7', '90'].entries()) {
    const { body: said } = await office.post('/questions/which-well', { well: ids.shallow, depthToBottomFt });
    expect(wells[at]).toEqual(said);
  }
  expect(await forecastHere(phone, visit, asked)).toBeNull();
  expect(await whichWellHere(phone, visit, '10')).toBeNull();
});
