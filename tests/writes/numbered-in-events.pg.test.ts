import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { numberedInEvents } from '../../src/store/write/numbered-in-event.ts';
import { inWrite } from '../../src/store/write/transaction.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';

const VISITS = 2_000;
const SAMPLES = 3;

let db: TestDatabase;
let firm: TestFirm;
const events = [v7(), v7()];

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  const office = await firm.setUp();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, starts: '2026-05-04', ends: '2026-05-08', standing: 'open', plan };
  await office.push(...events.map((id, at) => ({ kind: 'event', id, set: { ...set, name: `Round ${at}` } })));
  for (const [at, event] of events.entries()) await fill(event, at);
});
afterAll(() => db.drop());

/** An event with thousands of visits, of three samples each; the numbers of the second are those of the first. */
async function fill(event: string, at: number): Promise<void> {
  const id = (kind: string, n: string) => `md5('${kind} ${at} ' || ${n})::uuid`;
  const { ids } = firm;
  await db.bypass.query(
    `insert into visit (firm, id, rev, voided, event, well, crew, arrived)
select $1, ${id('visit', 'n')}, 1, n % 100 = 0, $2, $3, $4, now() from generate_series(1, ${VISITS}) n`,
    [firm.id, event, ids.shallow, ids.north],
  );
  const each = `generate_series(1, ${VISITS}) n, generate_series(1, ${SAMPLES}) m`;
  const sample = id('sample', `n || '-' || m`);
  await db.bypass.query(
    `insert into sample (firm, id, rev, voided, visit, number, collected)
select $1, ${sample}, 1, false, ${id('visit', 'n')}, 'S-' || n || '-' || m, now() from ${each}`,
    [firm.id],
  );
  await db.bypass.query(
    `insert into head (firm, feed, id, kind, seq, rev, gone, visit)
select $1, $2, ${sample}, 'sample', 1000000 + n * 10 + m, 1, false, ${id('visit', 'n')} from ${each}`,
    [firm.id, `event:${event}`],
  );
  await db.bypass.query(
    `insert into ledger (firm, feed, seq, record, kind, rev, state, received_at, live_count, content_hash, history_hash)
select $1, $2, 1000000 + n * 10 + m, ${sample}, 'sample', 1, json_build_object('number', 'S-' || n || '-' || m), now(), 1,
  decode(repeat('00', 8), 'hex'), decode(repeat('00', 32), 'hex') from ${each}`,
    [firm.id, `event:${event}`],
  );
}

function asked(numbers: readonly string[] | null, of: readonly string[] = events.slice(0, 1)) {
  return inWrite(db.pool, firm.id, (tx) => numberedInEvents(tx, of, numbers));
}

const inShort = (rows: Awaited<ReturnType<typeof asked>>) =>
  rows
    .map(({ event, isVoid, state }) => [events.indexOf(event), (state as unknown as { number: string }).number, isVoid])
    .toSorted();

it('finds the samples of an event that have a number, and those of a voided visit, which it says', async () => {
  expect(inShort(await asked(['S-7-1', 'S-100-2', 'S-0-0']))).toEqual([
    [0, 'S-100-2', true],
    [0, 'S-7-1', false],
  ]);
  expect(inShort(await asked(['S-7-1'], events))).toEqual([
    [0, 'S-7-1', false],
    [1, 'S-7-1', false],
  ]);
  expect(await asked(['S-7-1'], [v7()])).toEqual([]);
});

it('finds all of an event where no number is given', async () => {
  expect(await asked(null)).toHaveLength(VISITS * SAMPLES);
  expect(await asked(null, events)).toHaveLength(2 * VISITS * SAMPLES);
});

/** What the database did, line by line, to find the samples with this number. */
async function planOf(number: string): Promise<string[]> {
  return inWrite(db.pool, firm.id, async (tx) => {
    const query = ({ text, values }: { text: string; values: unknown[] }) =>
      tx.client.query(`explain (analyze, costs off, timing off) ${text}`, values);
    const rows = await numberedInEvents({ ...tx, client: { query } as never }, events.slice(0, 1), [number]);
    return rows.map((row) => String(Object.values(row)[0]));
  });
}

it('looks at no more than has the number, however many visits the event has', async () => {
  const plan = await planOf('S-7-1');
  const steps = plan.flatMap((line) => [...line.matchAll(/actual rows=([\d.]+) loops=(\d+)/g)]);
  const rows = steps.map(([, each, times]) => Number(each) * Number(times));
  expect(plan.join('\n')).toContain('sample_by_number');
  expect([Math.max(...rows) > 0, Math.max(...rows) < 10]).toEqual([true, true]);
});
