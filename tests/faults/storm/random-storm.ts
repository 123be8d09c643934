import { Chance } from '../../sim/chance.ts';
import type { Features } from '../../sim/features.ts';
import { Counts } from '../../support/relay.ts';
import { connectionStorm, DISASTERS, type DisasterName, type Storm, strike } from './disasters.ts';
import { explained } from './explain.ts';
import { judge } from './judge.ts';
import type { OwnPostgres } from './own-postgres.ts';
import { StormWorld } from './world.ts';

const ROUNDS = 3;
const NAMES = Object.keys(DISASTERS) as DisasterName[];

/** What many storms came to. */
export class Tally {
  readonly counts = new Counts();
  readonly failed: string[] = [];
  seeds = 0;
  rounds = 0;
  captures = 0;
  acknowledged = 0;
  longestHealingMs = 0;

  take(world: StormWorld): void {
    this.seeds += 1;
    this.captures += world.history.captures.size;
    this.acknowledged += world.history.acknowledged.size;
    this.rounds += world.healedInMs.length;
    this.longestHealingMs = Math.max(this.longestHealingMs, ...world.healedInMs);
    for (const [what, count] of world.counts.all) this.counts.add(what, count);
    this.counts.add(
      'phone died',
      world.phones.reduce((sum, { deaths }) => sum + deaths, 0),
    );
  }

  toString(): string {
    const { seeds, rounds, captures, acknowledged, longestHealingMs, failed } = this;
    const faults = Object.fromEntries([...this.counts.all].sort());
    return JSON.stringify({ seeds, rounds, captures, acknowledged, longestHealingMs, failed, faults }, null, 1);
  }
}

function featuresFor(chance: Chance): Partial<Features> {
  return {
    deaths: chance.yes(0.5),
    rehomes: chance.yes(0.6),
    voids: chance.yes(0.6),
    claims: chance.yes(0.5),
    resolves: chance.yes(0.6),
    poison: chance.yes(0.4),
    waits: chance.yes(0.5),
    lyingClocks: chance.yes(0.4),
  };
}

async function round({ world, chance, postgres }: Storm): Promise<void> {
  const faults = chance.pick([0, 0.05, 0.2, 0.4]);
  for (const { line } of world.phones) line.faults = faults;
  world.work(chance.between(40, 200));
  const names = Array.from({ length: chance.between(2, 5) }, () => chance.pick(NAMES));
  await strike({ world, chance, postgres }, names);
  const readers = chance.yes(0.15) ? await connectionStorm({ world, chance, postgres }).catch(() => []) : [];
  await world.heal();
  await judge(world);
  for (const reader of readers) reader.cut();
}

/** One world with its own database: the same seed draws the same disasters, though never at quite the same moments. */
export async function randomStorm(seed: number, postgres: OwnPostgres, tally: Tally): Promise<void> {
  const chance = new Chance(seed);
  const [phones, processes] = [chance.between(6, 8), chance.between(1, 3)];
  const durable = chance.pick(['backup', 'replicated'] as const);
  const features = featuresFor(chance);
  const options = { seed, phones, processes, durable, features, where: 'own', db: await postgres.database() } as const;
  const world = await StormWorld.open(options);
  try {
    world.follow();
    for (let left = ROUNDS; left > 0 && world.findings.list.length === 0; left--)
      await round({ world, postgres, chance });
    if (world.findings.list.length > 0) {
      tally.failed.push(`FAULT_SEED=${seed}: ${world.findings.list[0]?.detail}`);
      console.error(`FAULT_SEED=${seed}\n${await explained(world)}`);
    }
    tally.take(world);
  } finally {
    await world.close();
  }
}
