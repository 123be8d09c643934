import { askedBy, type Half, seedsOfHalf, worldsOfHalf } from './long-report.ts';
import { playSeeds, Tally } from './seed-report.ts';

const AT_A_TIME = 250;

/** Worlds of every second seed: as many as were asked of it, or as there is time for. Ends with 1 where one was violated. */
async function playHalf(half: number): Promise<Half> {
  const asked = askedBy(process.env);
  const untilMs = performance.now() + asked.minutes * 60_000;
  const tally = new Tally();
  const beganMs = performance.now();
  while (tally.worlds < worldsOfHalf(asked) && performance.now() < untilMs) {
    const count = Math.min(AT_A_TIME, worldsOfHalf(asked) - tally.worlds);
    const known = tally.bad.length;
    await playSeeds(tally, seedsOfHalf(asked, { half, played: tally.worlds }, count));
    for (const bad of tally.bad.slice(known)) process.stdout.write(`${bad}\n`);
    const seconds = (performance.now() - beganMs) / 1_000;
    process.stdout.write(
      `half ${half}: ${Math.round(seconds)} s, ${(tally.worlds / seconds).toFixed(1)}/s, ${tally.say()}\n`,
    );
  }
  if (tally.bad.length > 0) process.exitCode = 1;
  return { half, played: tally.worlds };
}

process.send?.(await playHalf(Number(process.argv[2])));
process.disconnect?.();
