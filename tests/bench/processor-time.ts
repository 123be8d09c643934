import { readdir, readFile } from 'node:fs/promises';

/** Processor time by process, in ms; empty where the system does not tell (it is read from /proc). */
export type Times = ReadonlyMap<string, number>;

const NS_PER_MS = 1e6;

async function namesIn(folder: string): Promise<string[]> {
  return (await readdir(folder).catch((): string[] => [])).filter((name) => /^\d+$/.test(name));
}

/** All threads of a process, in nanoseconds rather than in ticks of the clock. */
async function processTime(pid: string): Promise<number> {
  const threads = await namesIn(`/proc/${pid}/task`);
  const texts = await Promise.all(
    threads.map((thread) => readFile(`/proc/${pid}/task/${thread}/schedstat`, 'utf8').catch(() => '0')),
  );
  return texts.reduce((sum, text) => sum + Number.parseInt(text, 10), 0) / NS_PER_MS;
}

async function parentOf(pid: string): Promise<number> {
  const stat = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '');
  return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]);
}

/** The time that these processes and their children have taken so far; a child that has ended is not counted. */
export async function processorTimes(pids: readonly number[]): Promise<Times> {
  const times = new Map<string, number>();
  for (const pid of await namesIn('/proc')) {
    const ours = pids.includes(Number(pid)) || pids.includes(await parentOf(pid));
    if (ours) times.set(pid, await processTime(pid));
  }
  return times;
}

/** What was taken between two looks, in ms. */
export function spentBetween(before: Times, after: Times): number {
  return [...after].reduce((sum, [pid, ms]) => sum + ms - (before.get(pid) ?? 0), 0);
}
