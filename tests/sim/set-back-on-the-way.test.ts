import { expect, it } from 'vitest';
import { inLane } from './bugs/bug.ts';
import { finderOf } from './bugs/found-by.ts';
import type { Features } from './features.ts';
import { runSeed } from './run-seed.ts';

const SEED = 70_009_658;
/** As chance had it when this seed found a value that nobody had seen replaced. */
const FEATURES: Partial<Features> = {
  phones: 44,
  steps: 57,
  processes: 1,
  network: 0.5,
  commits: 0,
  lyingClocks: false,
  skewedServers: true,
  deaths: false,
  setBack: 'silent',
  backups: false,
  restoredPhone: false,
  drowned: false,
  moves: true,
  rehomes: false,
  voids: false,
  claims: false,
  resolves: true,
  poison: false,
  waits: false,
  damage: false,
  countedIds: false,
  bootstraps: false,
  compacts: false,
  equipment: false,
  lent: false,
  cloned: false,
  unheard: 0.6,
};

/** The server believes the revisions that a push names, whatever history they were seen in. */
const believing = inLane('revisions are believed', ['value lost'], {}, () => (next) => (batch) => {
  return next({ ...batch, seen: [] });
});

it('[B9] a push that is on its way while the data is set back replaces nothing that its author never saw', async () => {
  expect((await runSeed(SEED, FEATURES)).violations).toEqual([]);
  const { violations } = await runSeed(SEED, FEATURES, believing.plant());
  expect(violations.map(finderOf)).toEqual(believing.by);
});
