import { afterAll, beforeAll, expect, it } from 'vitest';
import { type OwnPostgres, ownPostgres } from './storm/own-postgres.ts';
import { randomStorm, Tally } from './storm/random-storm.ts';

const LONG = process.env.LONG === '1';
const MINUTES = Number(process.env.FAULT_MINUTES ?? 10);
const given = process.env.FAULT_SEED === undefined ? null : Number(process.env.FAULT_SEED);
const MARGIN_MS = 240_000;

/** A run of its own: a world of processes takes half a minute, and one alone would show little. */
const wanted = LONG || given !== null;
let postgres: OwnPostgres | null = null;

beforeAll(async () => {
  if (wanted) postgres = await ownPostgres();
}, 120_000);
afterAll(() => postgres?.stop(), 60_000);

it.runIf(wanted)(
  '[W1] [W2] [W14] [F3] [L3] storms at random lose nothing, double nothing, miss nothing, and are over when they are over',
  async () => {
    if (!postgres) throw new Error('there is no database');
    const tally = new Tally();
    const first = given ?? Math.floor(Math.random() * 2 ** 31);
    const endMs = performance.now() + MINUTES * 60_000;
    for (let seed = first; tally.seeds === 0 || (given === null && performance.now() < endMs); seed++) {
      console.info(`FAULT_SEED=${seed}`);
      await randomStorm(seed, postgres, tally);
    }
    console.info(String(tally));
    expect(tally.failed).toEqual([]);
    expect(tally.acknowledged).toBe(tally.captures);
  },
  MINUTES * 60_000 + MARGIN_MS,
);
