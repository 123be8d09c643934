import type { Features } from './features.ts';
import { MOST_ROUNDS } from './heal.ts';
import { wasTaken } from './history.ts';
import { type Ran, runSeed } from './run-seed.ts';

/** What many worlds held, so that nobody takes empty ones for proof. */
export class Tally {
  worlds = 0;
  captures = 0;
  acknowledged = 0;
  conflicts = 0;
  setAside = 0;
  setBacks = 0;
  commits = 0;
  rounds = 0;
  readonly bad: string[] = [];

  take({ world, rounds, violations }: Ran): void {
    const captures = world.history.all();
    this.worlds += 1;
    this.captures += captures.length;
    this.acknowledged += captures.filter(wasTaken).length;
    this.conflicts += captures.filter(({ told }) => told?.outcome === 'conflict_kept').length;
    this.setAside += captures.filter(({ told }) => told?.outcome === 'set_aside').length;
    this.setBacks += world.server.setBacks;
    this.commits += world.server.commits;
    this.rounds = Math.max(this.rounds, rounds);
    if (violations.length === 0) return;
    const found = violations.slice(0, 5).map(({ property, detail }) => `  ${property}: ${detail}`);
    this.bad.push(`seed ${world.seed}: play it alone with SIM_SEED=${world.seed}\n${found.join('\n')}`);
  }

  say(): string {
    const { worlds, captures, acknowledged, conflicts, setAside, setBacks, commits, rounds, bad } = this;
    const of = `${captures} changes captured, ${acknowledged} acknowledged, ${conflicts} in conflict, ${setAside} set aside`;
    const quiet = `quiet after at most ${rounds} of ${MOST_ROUNDS} rounds`;
    return `${worlds} worlds: ${of}; ${commits} commits, ${setBacks} set-backs; ${quiet}; ${bad.length} worlds with a violation`;
  }
}

/** Plays worlds; a world that throws counts as bad, and says its seed too. */
export async function playSeeds(tally: Tally, seeds: Iterable<number>, fixed: Partial<Features> = {}): Promise<void> {
  for (const seed of seeds) {
    try {
      tally.take(await runSeed(seed, fixed));
    } catch (error) {
      tally.worlds += 1;
      tally.bad.push(`seed ${seed}: play it alone with SIM_SEED=${seed}\n  it came to a stop: ${String(error)}`);
    }
  }
}

export function* range(from: number, count: number, step = 1): Generator<number> {
  for (let index = 0; index < count; index++) yield from + index * step;
}
