import { describe, expect, it } from 'vitest';
import type { Bug } from './bugs/bug.ts';
import { EQUIPMENT_BUGS } from './bugs/equipment-bugs.ts';
import { FINDERS, type Finder, finderOf } from './bugs/found-by.ts';
import { LANE_BUGS } from './bugs/lane-bugs.ts';
import { PHONE_BUGS } from './bugs/phone-bugs.ts';
import { STATEMENT_BUGS } from './bugs/statement-bugs.ts';
import { CALM, type Features } from './features.ts';
import { runSeed } from './run-seed.ts';

const BUGS: readonly Bug[] = [...STATEMENT_BUGS, ...LANE_BUGS, ...PHONE_BUGS, ...EQUIPMENT_BUGS];
/** Every bug must be found within so many worlds. */
const SEEDS = 60;
const FIRST = 50_000;

const caught: { readonly bug: string; readonly worlds: number; readonly by: readonly Finder[] }[] = [];

function worldFor({ where }: Bug): Partial<Features> {
  return { ...CALM, phones: 4, steps: 24, ...where };
}

/** Those of the checks that must find it which do. A world that comes to a stop finds nothing: it fails. */
async function foundIn(seed: number, bug: Bug): Promise<readonly Finder[]> {
  const { violations } = await runSeed(seed, worldFor(bug), bug.plant());
  if (process.env.SHOW) console.log(bug.name, seed, violations.slice(0, 2));
  const found = new Set(violations.map(finderOf));
  return bug.by.filter((name) => found.has(name));
}

describe('the simulation finds what is planted in it', () => {
  it.each(BUGS)(
    '$name',
    async (bug) => {
      for (let worlds = 1; worlds <= SEEDS; worlds++) {
        const seed = FIRST + worlds;
        const by = await foundIn(seed, bug);
        if (by.length === 0) continue;
        caught.push({ bug: bug.name, worlds, by });
        // the same world without it is sound
        expect((await runSeed(seed, worldFor(bug))).violations).toEqual([]);
        return;
      }
      expect.fail(`not found by ${bug.by.join(' or ')} within ${SEEDS} worlds from seed ${FIRST + 1} on`);
    },
    120_000,
  );

  it('by checks of which each finds one at least', () => {
    const lines = caught.map(
      ({ bug, worlds, by }) => `${bug.padEnd(66)} ${String(worlds).padStart(4)} ${by.join(', ')}`,
    );
    console.log([`${'planted bug'.padEnd(64)} worlds found by`, ...lines].join('\n'));
    expect(BUGS.length).toBeGreaterThanOrEqual(25);
    expect(new Set(BUGS.map(({ name }) => name)).size).toBe(BUGS.length);
    const finding = new Set(caught.flatMap(({ by }) => by));
    expect(FINDERS.filter((name) => !finding.has(name))).toEqual([]);
  });
});
