import { setTimeout as sleep } from 'node:timers/promises';
import type { Chance } from '../../sim/chance.ts';
import type { LiveReader } from '../../support/live-reader.ts';
import { COMMIT_SWALLOWED, COMMIT_UNSENT, COMMIT_VANISHED, type CommitFault } from './database-line.ts';
import { crowd } from './follower.ts';
import type { OwnPostgres } from './own-postgres.ts';
import type { StormWorld } from './world.ts';

/** One thing that goes wrong while people work. It is counted once it has happened. */
type Disaster = (storm: Storm) => Promise<void>;

/** What can go wrong in a world, and its own chance. */
export interface Storm {
  readonly world: StormWorld;
  readonly postgres: OwnPostgres;
  readonly chance: Chance;
}

function killed(pid: number): boolean {
  try {
    process.kill(pid, 'SIGKILL');
    return true;
  } catch {
    // it ended between the look and the kill
    return false;
  }
}

const killApi: Disaster = async ({ world, chance }) => {
  const api = chance.maybe(world.apis.filter(({ port }) => port !== null));
  if (!api) return;
  await api.kill();
  world.counts.add('process killed');
  await sleep(chance.below(400));
  // it takes as long as it takes, and the others go on meanwhile
  void api.start();
};

const pauseApi: Disaster = async ({ world, chance }) => {
  const api = chance.maybe(world.apis.filter(({ port }) => port !== null));
  if (!api) return;
  api.pause();
  world.counts.add('process paused');
  await sleep(chance.between(500, 1_500));
  api.goOn();
};

/** The sessions of the application, where the database answers. */
async function sessions({ world }: Storm): Promise<number[]> {
  const { pool, name } = world.options.db;
  const query = `select pid from pg_stat_activity where datname = $1 and usename = current_user
    and pid <> pg_backend_pid()`;
  return pool.query<{ pid: number }>(query, [name]).then(
    ({ rows }) => rows.map(({ pid }) => pid),
    () => [],
  );
}

const PATIENCE_MS = 5_000;
const LOOK_MS = 50;

/** Waits a while for what is about to happen; whether it did is for the scenario to say. */
export async function until(is: () => boolean | Promise<boolean>, patienceMs = PATIENCE_MS): Promise<void> {
  const endMs = performance.now() + patienceMs;
  while (!(await is()) && performance.now() < endMs) await sleep(LOOK_MS);
}

const ANEW_MS = 4_000;

/** The same for what takes a certain process: phones keep their connections, and all of them may have the other one. */
export async function untilAnybody(world: StormWorld, is: () => boolean | Promise<boolean>, patienceMs: number) {
  const endMs = performance.now() + patienceMs;
  for (;;) {
    await until(is, ANEW_MS);
    if ((await is()) || performance.now() > endMs) return;
    for (const { line } of world.phones) line.relay.cutAll();
  }
}

const terminate: Disaster = async (storm) => {
  const { world, chance } = storm;
  await until(async () => (await sessions(storm)).length > 2);
  const pids = (await sessions(storm)).filter((_, at) => at === 0 || chance.yes(0.5));
  const query = 'select count(*) filter (where pg_terminate_backend(pid))::int as n from unnest($1::int[]) as pid';
  const ended = await world.options.db.pool.query<{ n: number }>(query, [pids]).catch(() => null);
  world.counts.add('session terminated', ended?.rows[0]?.n ?? 0);
};

const killBackend: Disaster = async (storm) => {
  await until(async () => (await sessions(storm)).length > 0);
  const pid = storm.chance.maybe(await sessions(storm));
  if (pid !== undefined && killed(pid)) storm.world.counts.add('backend killed');
};

const killPostgres: Disaster = async ({ world, postgres, chance }) => {
  if (killed(postgres.pid())) world.counts.add('PostgreSQL killed');
  await sleep(chance.between(200, 800));
};

function atCommits(fault: CommitFault, what: string): Disaster {
  return async ({ world, chance }) => {
    const before = world.counts.of(what);
    for (const { database } of world.apis) database.arm(fault, chance.between(1, 3));
    await until(() => world.counts.of(what) > before);
    await sleep(chance.below(400));
  };
}

const cutDatabase: Disaster = async ({ world, chance }) => {
  world.counts.add('connection to the database cut', chance.pick(world.apis).database.relay.cutAll());
};

const holdDatabase: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.apis).database;
  relay.hold();
  world.counts.add('way to the database paused');
  await sleep(chance.between(400, 1_500));
  relay.release();
};

/** What one process says to the database arrives nowhere, or what it is answered; the others go on. */
const partitionDatabase: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.apis).database;
  const direction = chance.pick(['up', 'down'] as const);
  const before = world.counts.of(`swallowed ${direction}`);
  relay.swallow(direction);
  world.counts.add(`process parted from the database ${direction}`);
  await sleep(chance.between(400, 1_500));
  await until(() => world.counts.of(`swallowed ${direction}`) > before);
  relay.heal();
};

const YEAR_MS = 31_557_600_000;

/** Forth and back, by a moment or by years. */
const stepClock: Disaster = async ({ world, chance }) => {
  const most = chance.pick([1_000, 3_600_000, 5 * YEAR_MS]);
  chance.pick(world.apis).stepClock(Math.round((chance.next() * 2 - 1) * most));
  world.counts.add('clock of a process stepped');
  await sleep(chance.between(200, 500));
};

/** A phone is heard and hears nothing, or hears and is not heard. */
const partition: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.phones).line;
  const direction = chance.pick(['up', 'down'] as const);
  const before = world.counts.of(`swallowed ${direction}`);
  relay.swallow(direction);
  world.counts.add(`partition ${direction}`);
  await sleep(chance.between(400, 1_500));
  await until(() => world.counts.of(`swallowed ${direction}`) > before);
  relay.heal();
};

const holdPhone: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.phones).line;
  relay.hold();
  world.counts.add('way of a phone paused');
  await sleep(chance.between(300, 1_200));
  relay.release();
};

const slow: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.phones).line;
  relay.delayMs = { up: chance.below(300), down: chance.below(300) };
  world.counts.add('way of a phone slow');
  await sleep(chance.between(300, 1_200));
  relay.delayMs = { up: 0, down: 0 };
};

const TRICKLE_BYTES = 150;

const trickle: Disaster = async ({ world, chance }) => {
  const { relay } = chance.pick(world.phones).line;
  relay.trickleBytes = TRICKLE_BYTES;
  world.counts.add('way of a phone trickles');
  await sleep(chance.between(400, 1_500));
  relay.trickleBytes = 0;
};

const STREAMS = 200;
const STREAMS_PER_TOKEN = 8;

/** Every phone loses its line, and so many others come at the same moment to follow live. */
export async function connectionStorm({ world }: Storm): Promise<LiveReader[]> {
  const secrets = await world.readers(STREAMS / STREAMS_PER_TOKEN);
  for (const phone of world.phones) world.counts.add('line of a phone cut', phone.line.relay.cutAll());
  const readers = await crowd(() => world.url(), secrets, STREAMS);
  world.counts.add('streams of a storm', readers.length);
  return readers;
}

export const DISASTERS = {
  killApi,
  pauseApi,
  terminate,
  killBackend,
  killPostgres,
  swallowCommits: atCommits('after', COMMIT_SWALLOWED),
  cutBeforeCommits: atCommits('before', COMMIT_UNSENT),
  cutDatabase,
  holdDatabase,
  partitionDatabase,
  silenceDatabase: atCommits('silent', COMMIT_VANISHED),
  partition,
  holdPhone,
  slow,
  trickle,
  stepClock,
} as const satisfies Record<string, Disaster>;
export type DisasterName = keyof typeof DISASTERS;

/** One after the other while everybody works, with a little peace between. */
export async function strike(storm: Storm, names: readonly DisasterName[], peaceMs = 200): Promise<void> {
  for (const name of names) {
    await sleep(storm.chance.between(peaceMs / 2, peaceMs));
    await DISASTERS[name](storm);
  }
  await sleep(peaceMs);
}
