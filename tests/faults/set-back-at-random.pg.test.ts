import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { seeded } from '../support/faulty-pool.ts';
import { World } from './set-back-world.ts';

const LONG = process.env.LONG === '1';
const STEPS = 60;

/** What people did, as far as the server has acknowledged it. */
class Diary {
  /** The last pH that its own author gave each reading. */
  readonly readings = new Map<string, string>();
  /** Every remark about the one purge that both crews write about. */
  readonly remarks = new Set<string>();
}

interface Play {
  readonly world: World;
  readonly diary: Diary;
  readonly random: () => number;
  readonly purge: string;
  backup: string;
}

const pick = <Item>(items: readonly Item[], random: () => number): Item => {
  const item = items[Math.floor(random() * items.length)];
  if (item === undefined) throw new Error('nothing to choose from');
  return item;
};

/** A crew writes, whether or not there is a signal. */
async function write({ diary, purge, random }: Play, phone: FieldClient, step: number): Promise<void> {
  const value = (7 + step / 1_000).toFixed(3);
  const own = (await phone.all('reading')).filter(({ record }) => record.fields.remark === phone.context.time.boot);
  const chance = random();
  if (chance < 0.5 || own.length === 0) {
    const observed = await phone.observed();
    const { id } = await phone.record('reading', { purge, ph: value, remark: phone.context.time.boot, observed });
    diary.readings.set(id, value);
  } else if (chance < 0.75) {
    const { id } = pick(own, random).record;
    await phone.amend('reading', id, { ph: value }, { reason: `step ${step}` });
    diary.readings.set(id, value);
  } else {
    await phone.amend('purge', purge, { remark: `remark of step ${step}` });
    diary.remarks.add(`remark of step ${step}`);
  }
}

/** A backup, of which the phones are told a little later what it holds. */
async function backUp(play: Play): Promise<void> {
  const { server } = play.world;
  const mark = await server.durableByNow();
  play.backup = await server.copy();
  await mark();
}

async function step(play: Play, at: number): Promise<void> {
  const { random, world } = play;
  const chance = random();
  const phone = pick([world.north, world.south], random);
  if (chance < 0.6) await write(play, phone, at);
  else if (chance < 0.88) await syncOnce(pick(world.phones, random));
  else if (chance < 0.95) await backUp(play);
  else await world.server.setBackTo(play.backup);
}

async function textsAbout(world: World, purge: string): Promise<string> {
  const client = await world.server.pool.connect();
  await client.query('begin');
  await client.query(`select set_config('wellround.firm', $1, true)`, [world.firm.id]);
  const { rows } = await client.query<{ text: string }>(
    `select string_agg(state::text, ' ') as text from ledger where record = $1 or kind = 'conflict'`,
    [purge],
  );
  await client.query('commit');
  client.release();
  return rows[0]?.text ?? '';
}

async function playOut(seed: number): Promise<void> {
  const world = await World.open();
  try {
    const purge = await world.visit(world.north, world.firm.ids.lone, world.firm.ids.north);
    await world.syncAll(2);
    const play: Play = { world, diary: new Diary(), random: seeded(seed), purge, backup: await world.server.copy() };
    for (let at = 0; at < STEPS; at++) await step(play, at);
    const reports = await world.syncAll(5);
    expect(reports.slice(-3).map(({ problem, unsent }) => [problem, unsent.count])).toEqual(Array(3).fill([null, 0]));
    const readings = new Map((await world.office.all('reading')).map(({ record }) => [record.id, record.fields.ph]));
    expect(readings).toEqual(play.diary.readings);
    const said = await textsAbout(world, purge);
    expect([...play.diary.remarks].filter((remark) => !said.includes(`"${remark}"`))).toEqual([]);
    expect(await world.disagreements()).toEqual([]);
  } finally {
    await world.server.close();
  }
}

describe('a server that is set back again and again, at any moment of a day', () => {
  it('has in the end every value that a phone ever had, and agrees with every phone', async () => {
    const seed = Number(process.env.FUZZ_SEED ?? Math.floor(Math.random() * 2 ** 31));
    console.info(`FUZZ_SEED=${seed}`);
    await fc.assert(fc.asyncProperty(fc.nat(), playOut), { numRuns: LONG ? 60 : 2, seed, endOnFailure: true });
  }, 900_000);
});
