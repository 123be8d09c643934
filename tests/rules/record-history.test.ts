import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type HistoryKey, inOneOrder } from '../../src/rules/record-history/in-one-order.ts';

async function* from(keys: readonly HistoryKey[]): AsyncGenerator<HistoryKey> {
  yield* keys;
}

async function ordered(feeds: readonly (readonly HistoryKey[])[]): Promise<HistoryKey[]> {
  const found: HistoryKey[] = [];
  for await (const key of inOneOrder(feeds.map(from))) found.push(key);
  return found;
}

/** Records that wander between feeds while the clocks of the processes that write them jump. */
const ledger = fc
  .array(
    fc.record({ record: fc.integer({ min: 0, max: 4 }), feed: fc.integer({ min: 0, max: 2 }), atMs: fc.nat(50) }),
    {
      maxLength: 60,
    },
  )
  .map((steps) => {
    const [feeds, revs]: [HistoryKey[][], Map<number, number>] = [[[], [], []], new Map()];
    for (const { record, feed, atMs } of steps) {
      const rev = (revs.get(record) ?? 0) + 1;
      revs.set(record, rev);
      const rows = feeds[feed] ?? [];
      rows.push({ feed: `feed:${feed}`, seq: rows.length + 1, record: `record ${record}`, rev, atMs });
    }
    return feeds;
  });

it('[H5] tells every row once, each feed in its order and each record by its revisions, whatever the clocks said', async () => {
  await fc.assert(
    fc.asyncProperty(ledger, async (feeds) => {
      const told = await ordered(feeds);
      expect(told.length).toBe(feeds.flat().length);
      for (const rows of feeds) expect(told.filter(({ feed }) => feed === rows[0]?.feed)).toEqual(rows);
      for (const record of new Set(told.map((one) => one.record))) {
        const revs = told.filter((one) => one.record === record).map(({ rev }) => rev);
        expect(revs).toEqual([...revs].sort((a, b) => a - b));
      }
    }),
  );
});

it('[H5] goes by time between records that have nothing to do with each other', async () => {
  const row = (feed: string, seq: number, atMs: number): HistoryKey => ({ feed, seq, record: feed, rev: seq, atMs });
  const told = await ordered([
    [row('a', 1, 10), row('a', 2, 40)],
    [row('b', 1, 20), row('b', 2, 30)],
  ]);
  expect(told.map(({ atMs }) => atMs)).toEqual([10, 20, 30, 40]);
});
