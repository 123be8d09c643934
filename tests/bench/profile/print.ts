import type { Ground } from '../ground.ts';
import { processorTimes, spentBetween } from '../processor-time.ts';
import { BATCH, pushRound, readyPushes } from '../rows/push.ts';
import { singleRound } from '../rows/single.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import type { ProfileFound } from './agent.ts';

const MOST_FUNCTIONS = 60;

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

const WAL = 'select wal_records, wal_fpi, wal_bytes from pg_stat_wal';

function printServer(found: ProfileFound, readings: number): void {
  const { elapsedMs, processorMs } = found;
  say(`\nserver: ${elapsedMs.toFixed(0)} ms elapsed, ${processorMs.toFixed(0)} ms on the processor`);
  say('\nstatements (from being handed to the driver to the answer; ms in all, count, mean)');
  for (const { name, count, ms } of found.statements) {
    say(`${ms.toFixed(0).padStart(7)} ${String(count).padStart(6)} ${(ms / count).toFixed(2).padStart(8)}  ${name}`);
  }
  const each = (spentMs: number) => ((spentMs * 1_000) / readings).toFixed(1).padStart(8);
  say('\nfunctions of the server by time of their own (ms, microseconds a reading)');
  for (const { name, place, selfMs } of found.functions
    .toSorted((a, b) => b.selfMs - a.selfMs)
    .slice(0, MOST_FUNCTIONS)) {
    say(`${selfMs.toFixed(0).padStart(7)} ${each(selfMs)}  ${name}  ${place}`);
  }
  say('\nour functions by time with all that they call (ms, microseconds a reading)');
  const ours = found.functions.filter(({ place }) => place.startsWith('src/'));
  for (const { name, place, totalMs } of ours.toSorted((a, b) => b.totalMs - a.totalMs).slice(0, MOST_FUNCTIONS)) {
    say(`${totalMs.toFixed(0).padStart(7)} ${each(totalMs)}  ${name}  ${place}`);
  }
}

/** Says where the time of pushes goes: statements, functions of the server, processes of the database. */
export async function printProfile(ground: Ground, single: boolean): Promise<void> {
  await pushRound(ground, Math.min(ground.size.batches, 6));
  if (single) await singleRound(ground, 50);
  const pushes = single
    ? await readyPushes(ground, ground.size.singles, 1)
    : await readyPushes(ground, ground.size.batches, BATCH);
  await ground.postgres.calm();
  const before = await processorTimes([ground.postgres.pid]);
  const [walBefore] = await ground.postgres.query(WAL);
  const own = process.cpuUsage();
  await ground.server.ask('profile-start');
  const { ms } = await pushOverHttp(ground, pushes);
  const found = (await ground.server.ask('profile-stop')) as ProfileFound;
  const { user, system } = process.cpuUsage(own);
  const database = spentBetween(before, await processorTimes([ground.postgres.pid]));
  const [walAfter] = await ground.postgres.query(WAL);
  const readings = pushes.flat().reduce((sum, push) => sum + push.mutations, 0);
  const each = (spentMs: number) => `${((spentMs * 1_000) / readings).toFixed(1)} us`;
  say(
    `${readings} readings in ${ms.toFixed(0)} ms: ${((readings / ms) * 1_000).toFixed(0)} a second under the profiler`,
  );
  printServer(found, readings);
  say(`\nprocessor for each reading: server ${each(found.processorMs)}, database ${each(database)}, `);
  say(`load ${each((user + system) / 1_000)}`);
  const grown = (key: string) => Number(walAfter?.[key]) - Number(walBefore?.[key]);
  say(`write-ahead log: ${grown('wal_records')} records, ${grown('wal_fpi')} whole pages, ${grown('wal_bytes')} bytes`);
}
