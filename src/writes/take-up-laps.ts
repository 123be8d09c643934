import type { NewerSetAside } from '../store/read/newer-set-aside.ts';

/** Once through all lines of a firm that wait, in the order in which they came, in one round or in several. */
export interface Lap {
  /** The line that the next round goes on after; null for the beginning. */
  after: Pick<NewerSetAside, 'receivedAt' | 'client' | 'mutation'> | null;
  /** Tried in this lap, and decided otherwise or refused. */
  readonly left: string[];
  /** Overran in the lap before with what waits for them: tried without that now. */
  readonly alone: ReadonlySet<string>;
  /** Overran in this one with what waits for them. */
  readonly overran: Set<string>;
}

export function newLap(before?: Lap): Lap {
  return { after: null, left: [], alone: before?.overran ?? new Set(), overran: new Set() };
}

/**
 * How far the rounds of a process came, firm by firm. A round that was ended by lines that overran their time is gone on
 * with behind the last of them, so that each line gets its turn, and those that overran come again in the next lap.
 */
export class Laps {
  readonly #laps = new Map<string, Lap>();

  of(firm: string): Lap {
    const lap = this.#laps.get(firm) ?? newLap();
    this.#laps.set(firm, lap);
    return lap;
  }

  /** All lines have had their turn: the next round begins with the first again. */
  ended(firm: string, lap: Lap): void {
    if (lap.overran.size === 0) this.#laps.delete(firm);
    else this.#laps.set(firm, newLap(lap));
  }
}
