import { readdir, readFile } from 'node:fs/promises';
import type { Ground } from '../ground.ts';
import { BATCH, pushRound, readyPushes } from '../rows/push.ts';
import { singleRound } from '../rows/single.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import type { ProfileFound } from './agent.ts';

const TICK_MS = 10;
const MOST_FUNCTIONS = 45;

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

/** Processor time of each process of the database, in ms, by its number. */
async function databaseTimes(postmaster: number): Promise<Map<string, number>> {
  const times = new Map<string, number>();
  for (const pid of (await readdir('/proc')).filter((name) => /^\d+$/.test(name))) {
    const stat = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '');
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    if (Number(fields[1]) !== postmaster && Number(pid) !== postmaster) continue;
    const title = (await readFile(`/proc/${pid}/cmdline`, 'latin1').catch(() => '')).replaceAll('\0', ' ').trim();
    times.set(`${pid} ${title.slice(0, 60)}`, (Number(fields[11]) + Number(fields[12])) * TICK_MS);
  }
  return times;
}

const WAL = 'select wal_records, wal_fpi, wal_bytes from pg_stat_wal';

function printServer(found: ProfileFound, readings: number): void {
  const { elapsedMs, processorMs } = found;
  say(`\nserver: ${elapsedMs.toFixed(0)} ms elapsed, ${processorMs.toFixed(0)} ms on the processor`);
  say('\nstatements (from being handed to the driver to the answer; ms in all, count, mean)');
  for (const { name, count, ms } of found.statements) {
    say(`${ms.toFixed(0).padStart(7)} ${String(count).padStart(6)} ${(ms / count).toFixed(2).padStart(8)}  ${name}`);
  }
  say('\nfunctions of the server by time of their own (ms, microseconds a reading)');
  for (const { name, place, ms } of found.functions.slice(0, MOST_FUNCTIONS)) {
    say(`${ms.toFixed(0).padStart(7)} ${((ms * 1_000) / readings).toFixed(1).padStart(7)}  ${name}  ${place}`);
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
  const before = await databaseTimes(ground.postgres.pid);
  const [walBefore] = await ground.postgres.query(WAL);
  const own = process.cpuUsage();
  await ground.server.ask('profile-start');
  const ms = await pushOverHttp(ground.server.url, ground.phones, pushes);
  const found = (await ground.server.ask('profile-stop')) as ProfileFound;
  const { user, system } = process.cpuUsage(own);
  const after = await databaseTimes(ground.postgres.pid);
  const [walAfter] = await ground.postgres.query(WAL);
  const readings = pushes.flat().reduce((sum, push) => sum + push.mutations, 0);
  say(
    `${readings} readings in ${ms.toFixed(0)} ms: ${((readings / ms) * 1_000).toFixed(0)} readings/s under the profiler`,
  );
  printServer(found, readings);
  say(
    `\nprocessor: server ${found.processorMs.toFixed(0)} ms, load ${((user + system) / 1_000).toFixed(0)} ms, database:`,
  );
  for (const [name, time] of after) {
    const spent = time - (before.get(name) ?? 0);
    if (spent > 0) say(`${String(spent).padStart(7)} ms  ${name}`);
  }
  const grown = (key: string) => Number(walAfter?.[key]) - Number(walBefore?.[key]);
  say(
    `\nwrite-ahead log: ${grown('wal_records')} records, ${grown('wal_fpi')} whole pages, ${grown('wal_bytes')} bytes`,
  );
}
