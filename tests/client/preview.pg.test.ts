import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { previewVisit, type VisitPreview } from '../../src/client/preview/preview.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { canonicalText } from '../../src/protocol/content-hash.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';
import { RandomVisit, seeded } from './random-visit.ts';
import { serverPhone } from './server-phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

const DERIVED = ['assessment', 'flag', 'conflict', 'visit-summary'];

/** What the preview says follows, by id, as text. */
function saidHere({ assessments, flags, conflicts, summary }: VisitPreview): string[] {
  const all = [...assessments, ...flags, ...conflicts, ...(summary === null ? [] : [summary])];
  return all.flatMap(({ id, here }) => (here === null ? [] : [`${id} ${canonicalText(here)}`])).sort();
}

/** What the server stored of a visit, byte for byte, from its own tables; what it says of units follows from more. */
async function storedFor(visit: string): Promise<string[]> {
  const { rows } = await server.db.bypass.query<{ id: string; state: string }>(
    `select h.id, l.state::text as state from head h join ledger l using (firm, feed, seq)
     where h.firm = $1 and h.visit = $2 and h.kind = any($3) and not h.gone and l.state #>> '{fields,unit}' is null`,
    [server.firm.id, visit, DERIVED],
  );
  return rows.map(({ id, state }) => `${id} ${canonicalText(JSON.parse(state).fields)}`).sort();
}

/** A flag that only a corrected value raises: of corrections by others a phone knows no former value. */
function withoutCleared(said: readonly string[]): string[] {
  return said.filter((one) => !one.includes('"standing":"cleared"'));
}

/** The clock of the server goes with that of the phone, or ahead of it by so much. */
async function syncNow(phone: FieldClient, aheadMs = 0): Promise<void> {
  server.firm.nowMs = clock.nowMs + aheadMs;
  expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });
}

describe('what a phone shows offline is what the server will say', () => {
  it.each(Array.from({ length: 12 }, (_, at) => at + 1))(
    '[P1] assessments, flags, conflicts and summary of a random visit are those of the server byte for byte (seed %i)',
    async (seed) => {
      const chance = seeded(seed);
      const phone = await serverPhone(server, clock, server.firm.ids.phone);
      await syncNow(phone);
      const visits = Array.from({ length: 3 }, () => new RandomVisit(phone, server.firm, clock, chance));
      for (const one of visits) {
        await one.begin();
        for (let steps = 5 + Math.floor(chance() * 40); steps > 0; steps--) await one.step();
      }
      const before = await Promise.all(visits.map(({ visit }) => previewVisit(phone, visit)));
      expect(before.map(({ ahead }) => ahead.unsent).every((unsent) => unsent > 5)).toBe(true);
      await syncNow(phone);
      for (const [at, { visit }] of visits.entries()) {
        const [here, stored] = [saidHere(before[at] as VisitPreview), await storedFor(visit)];
        expect(here).toEqual(stored);
        expect((await previewVisit(phone, visit)).ahead).toMatchObject({ unsent: 0, notPulled: 0 });
      }
    },
  );

  it.each(Array.from({ length: Number(process.env.PREVIEW_SEEDS ?? 8) }, (_, at) => at + 101))(
    '[P2] so it is where others wrote at the visit before the last sync, but for what corrections superseded (seed %i)',
    async (seed) => {
      const chance = seeded(seed);
      const [one, two] = [
        await serverPhone(server, clock, server.firm.ids.phone),
        await serverPhone(server, clock, server.firm.ids.otherPhone),
      ];
      // a clock that is twelve minutes slow corrects times; the phone learns of it with its first records
      const aheadMs = seed % 2 === 0 ? 720_000 : 0;
      const visit = new RandomVisit(one, server.firm, clock, chance);
      await syncNow(one, aheadMs);
      await visit.begin();
      for (let steps = 10; steps > 0; steps--) await visit.step();
      await syncNow(one, aheadMs);
      await syncNow(two);
      const partner = visit.onPhone(two);
      for (const side of [visit, partner]) for (let steps = 8; steps > 0; steps--) await side.step();
      await syncNow(one, aheadMs);
      await syncNow(two);
      await syncNow(one, aheadMs);
      for (let steps = 8; steps > 0; steps--) await visit.step();
      const before = await previewVisit(one, visit.visit);
      await syncNow(one, aheadMs);
      const [here, stored] = [saidHere(before), await storedFor(visit.visit)];
      expect(withoutCleared(here)).toEqual(withoutCleared(stored));
    },
  );
});
