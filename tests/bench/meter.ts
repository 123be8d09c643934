import { processorTimes, spentBetween } from './processor-time.ts';

/** How long a piece of work took, and what all processes behind it took of the processors. */
export interface Measured {
  readonly ms: number;
  readonly processorMs: number;
}

export type Meter = (work: () => Promise<unknown>) => Promise<Measured>;

/** Measures work that these processes and their children do: the load, the servers, the database. */
export function meterOf(pids: readonly number[]): Meter {
  return async (work) => {
    const before = await processorTimes(pids);
    const begun = performance.now();
    await work();
    const ms = performance.now() - begun;
    return { ms, processorMs: spentBetween(before, await processorTimes(pids)) };
  };
}

export async function repeated(times: number, work: () => Promise<unknown>): Promise<void> {
  for (let time = 0; time < times; time++) await work();
}

/** One side of a round. */
export interface Side {
  /** Operations a second. */
  readonly rate: number;
  /** Microseconds of processor that an operation took, in all processes of the side together. */
  readonly processorUs: number;
}

export function sideOf(operations: number, { ms, processorMs }: Measured): Side {
  return { rate: operations / (ms / 1_000), processorUs: (processorMs * 1_000) / operations };
}
