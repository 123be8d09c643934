import { describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { act } from './actions.ts';
import { FIRM, IDS } from './base-firm.ts';
import { CALM, type Features } from './features.ts';
import { heal, MOST_ROUNDS } from './heal.ts';
import type { LedgerEntry } from './model/tables.ts';
import { placeKey, type Tables } from './model/tables.ts';
import { play } from './play.ts';
import { runSeed } from './run-seed.ts';
import { playSeeds, range, Tally } from './seed-report.ts';
import { timelessOf } from './timeless.ts';
import { World } from './world.ts';

async function worlds(from: number, count: number, where: Partial<Features>): Promise<Tally> {
  const tally = new Tally();
  await playSeeds(tally, range(from, count), { ...CALM, phones: 4, steps: 30, ...where });
  expect(tally.bad.join('\n')).toBe('');
  return tally;
}

/**
 * The ten properties of the sync, each in worlds that are hard on it. What a simulation in one process cannot have is
 * proven where it happens: late commits and rolled back writers in tests/reads/feed-writers.pg.test.ts, killed
 * processes in tests/faults/killed.pg.test.ts, live streams and revoked devices in tests/faults/revoked.pg.test.ts, a
 * real database set back in tests/faults/set-back*.pg.test.ts.
 */
describe('the ten properties', () => {
  it('1: no committed row is ever skipped', async () => {
    await worlds(20_000, 10, { processes: 3, commits: 0.3, network: 0.25, skewedServers: true, rehomes: true });
  });

  it('2: every effect happens once, however often its push is lost, repeated or answered in vain', async () => {
    const tally = await worlds(20_100, 10, { processes: 3, commits: 0.5, network: 0.5, deaths: true });
    expect(tally.acknowledged).toBeGreaterThan(100);
  });

  it('3: no value is lost: it is shown, kept beside another, or replaced by somebody who saw it', async () => {
    const tally = await worlds(20_200, 20, { voids: true, rehomes: true, resolves: true, waits: true, network: 0.1 });
    expect(tally.conflicts).toBeGreaterThan(10);
  });

  it('4: all replicas are equal byte for byte, and what is derived is what deriving anew gives', async () => {
    await worlds(20_300, 8, { phones: 8, voids: true, rehomes: true, claims: true, resolves: true, moves: true });
  });

  it('5: what somebody did is seen by them at once, nobody sees less than before, and a move is seen whole', async () => {
    await worlds(20_400, 10, { network: 0.5, deaths: true, rehomes: true, moves: true });
  });

  it('6: a phone holds and is told exactly what its feeds hold, while crews move between events', async () => {
    await worlds(20_500, 10, { network: 0.25, moves: true, rehomes: true, deaths: true });
  });

  it('7: cursor and rows are one: dying between any two commits, set back, or damaged, a phone is right again', async () => {
    await worlds(20_600, 6, { deaths: true, network: 0.25 });
    await worlds(20_700, 6, { setBack: 'silent', backups: true });
    await worlds(20_800, 6, { setBack: 'announced', backups: true, deaths: true });
    await worlds(20_900, 6, { damage: true });
  });

  it('8: nothing wedges: one bad line, one missing parent or one dead phone stops nobody else', async () => {
    const tally = await worlds(21_000, 10, {
      poison: true,
      waits: true,
      drowned: true,
      lyingClocks: true,
      network: 0.25,
    });
    expect(tally.setAside).toBeGreaterThan(4);
    await worlds(21_050, 12, { lent: true, restoredPhone: true, network: 0.25 });
  });

  it('9: time does not matter: with clocks that are off by years everything is decided as with right ones', async () => {
    const right = { ...CALM, phones: 4, steps: 40, voids: true, resolves: true, waits: true, countedIds: true };
    let conflicts = 0;
    for (const seed of range(21_100, 12)) {
      const one = await inTurn(seed, right);
      const other = await inTurn(seed, { ...right, lyingClocks: true });
      expect([...one.findings.list, ...other.findings.list]).toEqual([]);
      expect(timelessOf(other)).toEqual(timelessOf(one));
      conflicts += one.history.all().filter(({ told }) => told?.outcome === 'conflict_kept').length;
    }
    expect(conflicts).toBeGreaterThan(5);
  }, 60_000);
});

/** One after the other, so that the schedule does not depend on how many rows a note about a clock adds. */
async function inTurn(seed: number, features: Partial<Features>): Promise<World> {
  const world = await World.open(seed, features);
  const { chance, phones, timeline, told } = world;
  for (let step = 0; step < world.features.steps; step++) {
    const phone = chance.pick(phones);
    timeline.nowMs += chance.pick([1_000, 60_000, 600_000]);
    if (chance.yes(0.1)) {
      phone.die();
      await phone.start(IDS.ann);
    } else if (chance.yes(0.3)) {
      phone.sync();
      await timeline.empty();
    } else await act({ phone, chance, features: world.features, told });
  }
  for (const phone of [...phones, ...phones, ...phones]) {
    phone.sync();
    await timeline.empty();
  }
  return world;
}

function rowsOf(tables: Tables, feed: string): LedgerEntry[] {
  const tail = tables.tails.get(feed)?.seq ?? 0;
  return Array.from(range(1, tail), (seq) => tables.ledger.get(placeKey(feed, seq))).filter((row) => row !== undefined);
}

const FEED = 'firm';

const TAMPERING: Readonly<Record<string, (tables: Tables, rows: readonly LedgerEntry[]) => void>> = {
  'an edit': ({ ledger }, [, , row]) => {
    if (row) ledger.set(placeKey(FEED, row.seq), { ...row, state: (row.state ?? '').replace('"rev":1', '"rev":2') });
  },
  'a removal': ({ ledger }, [, , row]) => {
    if (row) ledger.delete(placeKey(FEED, row.seq));
  },
  'another order': ({ ledger }, [, one, other]) => {
    if (!one || !other) return;
    ledger.set(placeKey(FEED, one.seq), { ...other, seq: one.seq });
    ledger.set(placeKey(FEED, other.seq), { ...one, seq: other.seq });
  },
  'an insertion': ({ ledger, tails }, rows) => {
    const last = rows.at(-1);
    if (!last) return;
    const more = { ...last, seq: last.seq + 1 };
    ledger.set(placeKey(FEED, more.seq), more);
    tails.set(FEED, more);
  },
};

describe('10: history is not rewritten unnoticed', () => {
  it.each(Object.keys(TAMPERING))('%s in the past of a feed is found by verifying it', async (what) => {
    const { world } = await runSeed(21_200, { ...CALM, phones: 3, steps: 20 });
    expect(await recompute(world.server.pool, FIRM)).toEqual([]);
    const { tables } = world.server;
    TAMPERING[what]?.(tables, rowsOf(tables, FEED));
    const found = await recompute(world.server.pool, FIRM);
    expect(found.some((one) => one.what === 'history' && one.feed === FEED)).toBe(true);
  });

  it('a tail that was cut off and grown anew is noticed by the first phone that comes back', async () => {
    const world = await World.open(21_300, { ...CALM, phones: 3, steps: 25 });
    const before = world.server.tables.copy();
    await play(world);
    expect(await heal(world)).toBeLessThan(MOST_ROUNDS);
    const moved = [...world.server.tables.tails.values()].filter(
      ({ feed, seq }) => seq > (before.tails.get(feed)?.seq ?? 0),
    );
    expect(moved.length).toBeGreaterThan(0);
    world.server.setBack(before);
    world.reports.clear();
    for (const phone of world.phones) phone.sync();
    await world.timeline.empty();
    const [office] = world.phones;
    const resets = world.reports.get(office?.at ?? 0)?.resets ?? [];
    expect(resets.map(({ feed }) => feed)).toEqual(expect.arrayContaining(moved.map(({ feed }) => feed)));
  });
});

describe('a phone whose rows were damaged', () => {
  const DAMAGE: Readonly<Record<string, (world: World) => void>> = {
    'a missing row': ({ phones }) => phones[1]?.contents.records.get('firm')?.delete(firstOf(phones[1])),
    'a flipped value': ({ phones }) => {
      const records = phones[1]?.contents.records.get('firm');
      const stored = records?.get(firstOf(phones[1]));
      if (stored) records?.set(stored.record.id, { ...stored, record: { ...stored.record, rev: 77 } });
    },
    'a row too many': ({ phones }) => {
      const records = phones[1]?.contents.records.get('firm');
      const stored = records?.get(firstOf(phones[1]));
      const id = '01970000-0000-7000-8000-00000000ffff';
      if (stored) records?.set(id, { ...stored, record: { ...stored.record, id } });
    },
    'no rows at all': ({ phones }) => phones[1]?.contents.records.get('firm')?.clear(),
  };

  function firstOf(phone: World['phones'][number] | undefined): string {
    return [...(phone?.contents.records.get('firm')?.keys() ?? [])][3] ?? '';
  }

  it.each(Object.keys(DAMAGE))('%s is found and mended within two pulls', async (what) => {
    const world = await World.open(21_400, { ...CALM, phones: 3, steps: 10, damage: true });
    await play(world);
    await heal(world);
    const [, phone] = world.phones;
    if (!phone) throw new Error('a phone is missing');
    phone.damaged = true;
    DAMAGE[what]?.(world);
    const mended: string[] = [];
    for (let pulls = 0; pulls < 2; pulls++) {
      phone.sync();
      await world.timeline.empty();
      const report = world.reports.get(1);
      mended.push(...(report?.repaired ?? []), ...(report?.resets.map(({ feed }) => feed) ?? []));
    }
    expect(mended).toEqual(['firm']);
    const held = [...(phone.contents.records.get('firm')?.values() ?? [])].length;
    expect(held).toBe(world.server.tables.tails.get('firm')?.liveCount);
  });
});
