import { describe, expect, it } from 'vitest';
import type { Bug } from './bugs/bug.ts';
import { EQUIPMENT_BUGS } from './bugs/equipment-bugs.ts';
import { LANE_BUGS } from './bugs/lane-bugs.ts';
import { PHONE_BUGS } from './bugs/phone-bugs.ts';
import { STATEMENT_BUGS } from './bugs/statement-bugs.ts';
import { CALM, type Features } from './features.ts';
import { runSeed } from './run-seed.ts';
import type { Violation } from './violation.ts';

const BUGS: readonly Bug[] = [...STATEMENT_BUGS, ...LANE_BUGS, ...PHONE_BUGS, ...EQUIPMENT_BUGS];
/** Every bug must show within so many worlds. */
const SEEDS = 60;
const FIRST = 50_000;

const caught: { readonly bug: string; readonly worlds: number; readonly by: string }[] = [];

function worldFor({ where }: Bug): Partial<Features> {
  return { ...CALM, phones: 4, steps: 24, ...where };
}

async function violationsOf(bug: Bug, seed: number): Promise<readonly Violation[]> {
  try {
    return (await runSeed(seed, worldFor(bug), bug.plant())).violations;
  } catch (error) {
    return [{ property: 'nothing wedges', detail: `the world came to a stop: ${String(error)}` }];
  }
}

describe('the simulation finds what is planted in it', () => {
  it.each(BUGS)(
    '$name',
    async (bug) => {
      for (let worlds = 1; worlds <= SEEDS; worlds++) {
        const seed = FIRST + worlds;
        const violations = await violationsOf(bug, seed);
        if (violations.length === 0) continue;
        const by = [...new Set(violations.map(({ property }) => property))].join(', ');
        caught.push({ bug: bug.name, worlds, by });
        if (process.env.SHOW) console.log(bug.name, seed, violations.slice(0, 2));
        // the same world without it is sound
        expect((await runSeed(seed, worldFor(bug))).violations).toEqual([]);
        return;
      }
      expect.fail(`not found within ${SEEDS} worlds from seed ${FIRST + 1} on`);
    },
    120_000,
  );

  it('says which property found which', () => {
    const lines = caught.map(({ bug, worlds, by }) => `${bug.padEnd(52)} ${String(worlds).padStart(4)} ${by}`);
    console.log([`${'planted bug'.padEnd(50)} worlds found by`, ...lines].join('\n'));
    expect(BUGS.length).toBeGreaterThanOrEqual(25);
    expect(new Set(BUGS.map(({ name }) => name)).size).toBe(BUGS.length);
  });
});
