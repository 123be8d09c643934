import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
let firm: TestFirm;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
});
afterAll(() => db.drop());

describe('the write door', () => {
  it('[W1] applies a purge with its readings and assesses it', async () => {
    const crew = await firm.client('crew', firm.ids.phone);
    const visit = v7();
    const purge = v7();
    const at = (minute: number) => new Date(Date.parse('2026-05-04T10:00:00Z') + minute * 60_000).toISOString();
    const reading = (minute: number) => ({
      kind: 'reading',
      set: {
        purge,
        meter: firm.ids.meter,
        temperatureC: '12.1',
        ph: '7.01',
        specificConductanceUsPerCm: '510',
        dissolvedOxygenMgPerL: '2.10',
        orpMv: '110',
        turbidityNtu: '3.1',
        flowMlPerMin: '200',
        depthToWaterFt: '21.4',
        observed: firm.observed(at(minute)),
      },
    });
    const outcomes = await crew.push(
      {
        kind: 'visit',
        id: visit,
        set: { event: firm.ids.event, well: firm.ids.lone, crew: firm.ids.north, method: 'low-flow', arrived: at(-30) },
      },
      { kind: 'purge', id: purge, set: { visit, began: at(0) } },
      ...[5, 10, 15, 20].map(reading),
    );
    expect(outcomes.map((outcome) => outcome.outcome)).toEqual(Array(6).fill('applied'));
    const { rows } = await db.bypass.query('select stable, first_held_at from assessment where purge = $1', [purge]);
    expect(rows).toEqual([{ stable: true, first_held_at: '2026-05-04T10:15:00Z' }]);
  });
});
