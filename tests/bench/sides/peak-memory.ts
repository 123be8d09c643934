import { readFile, writeFile } from 'node:fs/promises';

const KIB = 1_024;
/** Tells the kernel to begin anew with the most that a process ever had (proc(5), clear_refs). */
const BEGIN_ANEW = '5';

async function resident(pid: number, line: 'VmRSS' | 'VmHWM'): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  const kib = new RegExp(`^${line}:\\s+(\\d+) kB`, 'm').exec(status)?.[1];
  if (kib === undefined) throw new Error(`the system tells no ${line} of process ${pid}`);
  return Number(kib) * KIB;
}

/**
 * Bytes that a process had in memory at its highest while work was done, beyond what it had before; null where the system
 * does not tell.
 */
export async function memoryAbove(pid: number, work: () => Promise<unknown>): Promise<number | null> {
  const before = await resident(pid, 'VmRSS').catch(() => null);
  const isTold =
    before !== null &&
    (await writeFile(`/proc/${pid}/clear_refs`, BEGIN_ANEW).then(
      () => true,
      () => false,
    ));
  await work();
  return isTold ? Math.max(0, (await resident(pid, 'VmHWM')) - before) : null;
}
