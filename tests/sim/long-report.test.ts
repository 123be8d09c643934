import { expect, it } from 'vitest';
import { type Asked, askedBy, type Half, sayPlayed, seedsOfHalf, worldsOfHalf } from './long-report.ts';
import { range } from './seed-report.ts';

function seedsOf(asked: Asked, halves: readonly Half[]): number[] {
  const seeds = halves.flatMap(({ half, played }) => [...seedsOfHalf(asked, { half, played: 0 }, played)]);
  return seeds.sort((one, other) => one - other);
}

/** What a run that ended says of how to go on, as an environment. */
function goOn(said: string): NodeJS.ProcessEnv {
  return Object.fromEntries([...said.matchAll(/(SIM_FROM|SIM_WORLDS)=(\d+)/g)].map(([, name, value]) => [name, value]));
}

it('a long run that was cut short says how much of it was played, and the next one goes on without a gap', () => {
  const asked = askedBy({ SIM_FROM: '500', SIM_WORLDS: '1000', SIM_MINUTES: '3' });
  const halves = [
    { half: 0, played: 200 },
    { half: 1, played: 170 },
  ];
  const said = sayPlayed(asked, halves);
  expect(said).toContain('370 of 1000 worlds were played, ended because SIM_MINUTES=3 were over');
  expect(said).toContain('every seed from 500 to 839;');
  const next = askedBy(goOn(said));
  expect(next).toMatchObject({ from: 840, worlds: 660 });
  const rest = [0, 1].map((half) => ({ half, played: worldsOfHalf(next) }));
  const all = new Set([...seedsOf(asked, halves), ...seedsOf(next, rest)]);
  expect([...all].sort((one, other) => one - other)).toEqual([...range(500, 1_000)]);
});

it('a long run that played all says so, and the next one plays as many behind it', () => {
  const asked = askedBy({});
  const halves = [0, 1].map((half) => ({ half, played: worldsOfHalf(asked) }));
  const said = sayPlayed(asked, halves);
  expect(said).toContain('1000000 of 1000000 worlds were played, all of them: every seed from 1000000 to 1999999;');
  expect(askedBy(goOn(said))).toMatchObject({ from: 2_000_000, worlds: 1_000_000 });
});

it('half of a long run speaks of its own half', () => {
  const said = sayPlayed(askedBy({}), [{ half: 1, played: 250 }]);
  expect(said).toContain('250 of 500000 worlds were played, ended because SIM_MINUTES=8 were over: every second seed');
  expect(said).toContain('go on with SIM_FROM=1000500 SIM_WORLDS=999500');
});
