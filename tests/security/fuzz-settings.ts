const LONG = process.env.LONG === '1';

/** How many cases are tried. */
export const RUNS = { rest: LONG ? 20_000 : 700, push: LONG ? 3_000 : 100, graphql: LONG ? 5_000 : 150 } as const;

/** Another one each run, printed so that a run can be had again: FUZZ_SEED=... npx vitest run ... */
export function fuzzSeed(): number {
  const given = process.env.FUZZ_SEED;
  const seed = given === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(given);
  console.info(`FUZZ_SEED=${seed}`);
  return seed;
}
