import { playSeeds, range, Tally } from './seed-report.ts';

/** Beyond every seed that the short run plays. SIM_FROM begins elsewhere, so that a million may be shared by several runs. */
const FIRST = Number(process.env.SIM_FROM ?? 1_000_000);
const AT_A_TIME = 250;

/**
 * Worlds of every second seed: as many as SIM_WORLDS says of both halves (a million if missing), or as SIM_MINUTES (8 if
 * missing) allow each of the two. Ends with 1 where one of them was violated.
 */
async function playHalf(half: number): Promise<void> {
  const worlds = Math.ceil(Number(process.env.SIM_WORLDS ?? 1_000_000) / 2);
  const untilMs = performance.now() + Number(process.env.SIM_MINUTES ?? 8) * 60_000;
  const tally = new Tally();
  const beganMs = performance.now();
  while (tally.worlds < worlds && performance.now() < untilMs) {
    const count = Math.min(AT_A_TIME, worlds - tally.worlds);
    const known = tally.bad.length;
    await playSeeds(tally, range(FIRST + half + 2 * tally.worlds, count, 2));
    for (const bad of tally.bad.slice(known)) process.stdout.write(`${bad}\n`);
    const seconds = (performance.now() - beganMs) / 1_000;
    process.stdout.write(
      `half ${half}: ${Math.round(seconds)} s, ${(tally.worlds / seconds).toFixed(1)}/s, ${tally.say()}\n`,
    );
  }
  if (tally.bad.length > 0) process.exitCode = 1;
}

await playHalf(Number(process.argv[2]));
