import { expect, it } from 'vitest';
import { memoryStore } from '../../src/client/memory-store.ts';
import { trim } from '../../src/client/trim.ts';
import { openPhone, SimClock } from './fake/phone.ts';
import { firmServer } from './fake/world.ts';
import { entry, FEED, feedState, identity, storedRecord } from './store-fixtures.ts';

interface Told {
  readonly rev: number;
  readonly seq: number;
}

/** Which of its lines a phone keeps that holds the feed up to 20, with the record in its revision 2 or without it. */
async function keptOf(told: Told, copies: readonly number[], durable = 1): Promise<readonly number[]> {
  const store = memoryStore();
  const { context } = await openPhone({ server: firmServer(), clock: new SimClock(), seed: 1, store });
  const line = entry(1);
  const records = copies.map((rev) => storedRecord(7, FEED, rev));
  await store.commit([
    { put: 'identity', identity: { ...identity(2), durable } },
    { put: 'entry', entry: { ...line, outcome: { mutationId: 1, outcome: 'applied', feed: FEED, ...told } } },
    { put: 'feed', state: feedState(20) },
    ...records.map(({ record, ...stored }) => {
      return { put: 'record', stored: { ...stored, record: { ...record, id: line.id } } } as const;
    }),
  ]);
  await trim(context);
  return (await store.outbox()).map(({ mutationId }) => mutationId);
}

it('drops a line once the feed is held as far as the place that was told', async () => {
  expect(await keptOf({ rev: 1, seq: 20 }, [])).toEqual([]);
  expect(await keptOf({ rev: 1, seq: 21 }, [])).toEqual([1]);
});

it('drops a line whose place, told in a history that was set back, never comes, once its record shows it', async () => {
  expect(await keptOf({ rev: 2, seq: 90 }, [2])).toEqual([]);
  expect(await keptOf({ rev: 2, seq: 90 }, [3])).toEqual([]);
});

it('keeps it while the record is not as far, and while the server could still lose it', async () => {
  expect(await keptOf({ rev: 2, seq: 90 }, [1])).toEqual([1]);
  expect(await keptOf({ rev: 2, seq: 90 }, [2], 0)).toEqual([1]);
});
