import { expect } from 'vitest';
import { type DisasterName, type Storm, strike, until } from './disasters.ts';
import { explained } from './explain.ts';
import { judge } from './judge.ts';
import { HEALED_WITHIN_MS } from './world.ts';

export interface Scenario {
  readonly disasters: readonly DisasterName[];
  /** Probability that a request meets a fault. */
  readonly requests: number;
  /** What must have happened: else the scenario has shown nothing. Of several in one place, one of them. */
  readonly must: readonly (string | readonly string[])[];
}

/** A disaster meets nobody where no process runs or the database is slow: then it strikes again. */
const STRIKES = 3;
const HAPPENS_WITHIN_MS = 20_000;

/** All faults end, and everything is judged. */
export async function judged({ world }: Storm): Promise<void> {
  await world.heal();
  await judge(world);
  if (world.findings.list.length > 0) console.error(await explained(world));
  expect(world.findings.list).toEqual([]);
  expect(world.healedInMs.at(-1)).toBeLessThan(HEALED_WITHIN_MS);
  console.info(`healed in ${world.healedInMs.at(-1)} ms; ${JSON.stringify(Object.fromEntries(world.counts.all))}`);
}

/** Everybody works until all of it has happened; then all faults end, and everything is judged. */
export async function play(storm: Storm, { disasters, requests, must }: Scenario): Promise<void> {
  const { counts, history, phones } = storm.world;
  const missing = () => must.filter((what) => [what].flat().every((one) => counts.of(one) === 0));
  counts.all.clear();
  const [captured, acknowledged] = [history.captures.size, history.acknowledged.size];
  for (const phone of phones) phone.line.faults = requests;
  storm.world.work();
  const isDone = () => missing().length === 0 && history.captures.size > captured + 20;
  for (let strikes = 0; strikes < STRIKES && !isDone(); strikes++) {
    await strike(storm, disasters);
    await until(isDone, HAPPENS_WITHIN_MS);
  }
  await judged(storm);
  expect(missing()).toEqual([]);
  expect(history.captures.size).toBeGreaterThan(captured + 20);
  expect(history.acknowledged.size - acknowledged).toBe(history.captures.size - captured);
}
