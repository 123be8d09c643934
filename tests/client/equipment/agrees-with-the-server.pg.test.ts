import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type EquipmentHere, equipmentHere } from '../../../src/client/equipment/equipment-here.ts';
import { meterHere } from '../../../src/client/equipment/meter-here.ts';
import { unitHere } from '../../../src/client/equipment/unit-here.ts';
import { syncOnce } from '../../../src/client/sync.ts';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import { RestClient } from '../../doors/rest/rest-client.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { SimClock } from '../fake/phone.ts';
import { seeded } from '../random-visit.ts';
import { serverPhone } from '../server-phone.ts';
import { RandomCrew } from './random-crew.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

const UNITS = ['pump', 'otherPump', 'meter', 'otherMeter'] as const;

/** What the server stored of each unit, from its own tables. */
async function stored(): Promise<Map<string, string>> {
  const { rows } = await server.db.bypass.query<{ unit: string; state: string }>(
    `select h.parent as unit, l.state::text as state from head h join ledger l using (firm, feed, seq)
     where h.firm = $1 and h.kind = 'unit-state' and not h.gone`,
    [server.firm.id],
  );
  return new Map(rows.map(({ unit, state }) => [unit, canonicalText(JSON.parse(state).fields)]));
}

function said(all: EquipmentHere, unit: string): string | undefined {
  const { here } = unitHere(all, unit);
  return here === null ? undefined : canonicalText(here);
}

describe('a phone that follows every event and has pushed all', () => {
  it.each(Array.from({ length: Number(process.env.EQUIPMENT_SEEDS ?? 8) }, (_, at) => at + 1))(
    'says of each unit what the server stored, byte for byte; before it was sent, it said the same (seed %i)',
    async (seed) => {
      const chance = seeded(seed);
      const { phone, otherPhone, north, south } = server.firm.ids;
      const one = await serverPhone(server, clock, phone);
      const two = await serverPhone(server, clock, otherPhone);
      const syncNow = async (which: typeof one) => {
        server.firm.nowMs = clock.nowMs;
        expect(await syncOnce(which)).toMatchObject({ problem: null, differing: [] });
      };
      await syncNow(one);
      await syncNow(two);
      const crews = [
        new RandomCrew(one, north, server.firm, clock, chance),
        new RandomCrew(two, south, server.firm, clock, chance),
      ];
      for (let round = 0; round < 3; round++) {
        for (const crew of crews) for (let steps = 8; steps > 0; steps--) await crew.step();
        await syncNow(one);
        await syncNow(two);
      }
      // the last word is of the first phone, which has all that the other one said
      await syncNow(one);
      for (let steps = 6; steps > 0; steps--) await crews[0]?.step();
      const before = await equipmentHere(one);
      const ahead = UNITS.map((name) => said(before, server.firm.ids[name]));
      await syncNow(one);
      const [after, words] = [await equipmentHere(one), await stored()];
      for (const [at, name] of UNITS.entries()) {
        const unit = server.firm.ids[name];
        expect(said(after, unit)).toBe(words.get(unit));
        expect(ahead[at]).toBe(words.get(unit));
        expect(unitHere(after, unit)).toMatchObject({ standing: 'agrees', goesBy: 'here' });
      }
    },
  );

  it('answers whether a meter may be used as the server does of the same records', async () => {
    const { ids } = server.firm;
    const admin = await server.firm.client('admin');
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', calibration: { set: 'usgs-field-manual' } };
    await admin.push({ kind: 'event', verb: 'amend', id: ids.event, set: { plan } });
    const phone = await serverPhone(server, clock, ids.phone);
    server.firm.nowMs = clock.nowMs;
    await syncOnce(phone);
    const standard = { parameter: 'ph', act: 'checked', part: 'start', buffer: 'technical-700', temperatureC: '20.0' };
    for (const reading of ['7.30', '7.02']) {
      clock.pass(120_000);
      const set = { unit: ids.meter, ...standard, reading, observed: await phone.observed() };
      await phone.record('calibration-check', set);
    }
    clock.pass(600_000);
    server.firm.nowMs = clock.nowMs;
    await syncOnce(phone);
    const at = clock.wall();
    const here = meterHere(await equipmentHere(phone), { meter: ids.meter, event: ids.event, now: at });
    const rest = new RestClient(server, await server.token('crew', ids.phone));
    const query = `at=${encodeURIComponent(at)}&event=${ids.event}`;
    const { body } = await rest.get(`/units/${ids.meter}/may-be-used?${query}`);
    expect(JSON.parse(JSON.stringify(here))).toEqual(body);
    expect(here?.sensors.find(({ parameter }) => parameter === 'ph')?.usable).toBe(true);
  });
});
