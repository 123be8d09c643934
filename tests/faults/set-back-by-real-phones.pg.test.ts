import { v7 } from 'uuid';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { syncOnce } from '../../src/client/sync.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { heldBy, World } from './set-back-world.ts';

let world: World;

beforeEach(async () => {
  world = await World.open();
});
afterEach(() => world.server.close());

/** What people wrote, by id; what the server makes of it is written anew. */
function written(held: ReadonlyMap<string, RecordState>): Map<string, unknown> {
  const people = [...held.values()].filter(({ client }) => client !== null);
  return new Map(people.map(({ id, fields }) => [id, fields]));
}

interface Day {
  readonly backup: string;
  /** Every value that was acknowledged, by the id of its record. */
  readonly acknowledged: ReadonlyMap<string, unknown>;
  readonly purge: string;
  readonly readings: readonly string[];
}

/** A morning that is in the backup, and an afternoon that is not, all of it acknowledged. */
async function day({ firm, north, office, server, south }: World): Promise<Day> {
  const { lone, north: northCrew, shallow, south: southCrew } = firm.ids;
  const purge = await world.visit(north, lone, northCrew);
  const first = await world.reading(north, purge, '7.00');
  await world.syncAll();
  const backup = await server.copy();
  const second = await world.reading(north, purge, '7.10');
  await north.amend('reading', first, { ph: '7.01' }, { reason: 'misread' });
  await north.amend('purge', purge, { remark: 'clear' });
  const other = await world.visit(south, shallow, southCrew);
  const third = await world.reading(south, other, '6.50');
  await world.syncAll(2);
  // each builds on what it has from another
  await south.amend('purge', purge, { ended: '2026-05-04T11:00:00-05:00' });
  await office.amend('well', lone, { remark: 'the lid is stuck' });
  await world.syncAll(2);
  const fourth = await world.reading(north, purge, '7.20');
  const reports = await world.syncAll(2);
  expect(reports.map(({ problem, unsent }) => [problem, unsent.count])).toEqual(reports.map(() => [null, 0]));
  return { backup, acknowledged: written(await heldBy(office)), purge, readings: [first, second, third, fourth] };
}

async function expectAllBack({ acknowledged, purge, readings }: Day): Promise<void> {
  expect(await world.disagreements()).toEqual([]);
  for (const phone of world.phones) {
    expect(await phone.conflicts()).toEqual([]);
    expect(await phone.troubles()).toEqual([]);
  }
  const now = written(await heldBy(world.office));
  for (const [id, fields] of acknowledged) expect([id, now.get(id)]).toEqual([id, fields]);
  // once: a reading that was said again is no second one, nor a second change of the first
  const changes = await Promise.all(readings.map(async (id) => (await world.told(id)).changes));
  expect(changes).toEqual([2, 1, 1, 1]);
  expect((await world.told(purge)).changes).toBe(3);
}

/** What the server says to a cursor that a phone still has. */
async function cursorRefused(phone: FieldClient): Promise<string | null> {
  const feed = `event:${world.firm.ids.event}`;
  const state = (await phone.context.store.feeds()).find((one) => one.feed === feed);
  const cursor = state?.cursor ?? null;
  const { client } = await phone.identity();
  const answer = await phone.context.transport.page({ feed, cursor, limit: 10, client });
  return answer.ok ? null : `${answer.problem.status} ${answer.problem.code} ${answer.problem.reason}`;
}

describe('a server that is set back to an older copy', () => {
  it('[F6] and tells nobody gets back from the phones everything that it had acknowledged, once', async () => {
    const before = await day(world);
    await world.reading(world.north, before.purge, '7.30');
    await world.server.setBackTo(before.backup);
    expect(await cursorRefused(world.south)).toBe('410 reset_required future');
    const [north] = await world.syncAll(3);
    expect(north?.problem).toBeNull();
    expect(north?.resets.length).toBeGreaterThan(0);
    expect(north?.replayed).toBeGreaterThan(0);
    await expectAllBack(before);
    const phs = (await world.office.all('reading')).map(({ record }) => record.fields.ph);
    expect(phs.sort()).toEqual(['6.50', '7.01', '7.10', '7.20', '7.30']);
  }, 60_000);

  it('[F6] is noticed also where others have written on meanwhile, past the place of every cursor', async () => {
    const before = await day(world);
    await world.server.setBackTo(before.backup);
    const { event, north, deep } = world.firm.ids;
    const admin = await world.firmAdmin();
    const visits = Array.from({ length: 40 }, () => ({
      kind: 'visit',
      id: v7(),
      set: { event, well: deep, crew: north, method: 'gauging', arrived: '2026-05-04T12:00:00-05:00' },
    }));
    await admin.push(...visits);
    expect(await cursorRefused(world.north)).toBe('410 reset_required other_history');
    await world.syncAll(3);
    await expectAllBack(before);
    expect(await world.south.all('visit')).toHaveLength(42);
  }, 60_000);

  it('[F6] and says so by a new epoch is believed', async () => {
    const before = await day(world);
    await world.server.setBackTo(before.backup);
    await world.server.administer('update installation set epoch = gen_random_uuid()');
    expect(await cursorRefused(world.north)).toBe('410 reset_required other_epoch');
    await world.syncAll(3);
    await expectAllBack(before);
  }, 60_000);

  it('loses nothing where the phones forget only what it named as durable', async () => {
    const { firm, north, office, server } = world;
    const purge = await world.visit(north, firm.ids.lone, firm.ids.north);
    await world.reading(north, purge, '7.00');
    await world.syncAll();
    expect(await north.context.store.outbox()).toHaveLength(3);
    const mark = await server.durableByNow();
    const backup = await server.copy();
    await world.reading(north, purge, '7.10');
    await syncOnce(north);
    await mark();
    await world.syncAll(2);
    // the first three are in the backup, the fourth is not
    expect((await north.context.store.outbox()).map(({ mutationId }) => mutationId)).toEqual([4]);
    const acknowledged = written(await heldBy(office));
    await server.setBackTo(backup);
    const report = await syncOnce(north);
    expect([report.problem, report.replayed]).toEqual([null, 1]);
    await world.syncAll(2);
    const now = written(await heldBy(office));
    for (const [id, fields] of acknowledged) expect([id, now.get(id)]).toEqual([id, fields]);
    expect(await world.disagreements()).toEqual([]);
  }, 60_000);
});
