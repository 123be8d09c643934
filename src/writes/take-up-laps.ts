import type { NewerSetAside } from '../store/read/newer-set-aside.ts';

/** Once through all lines of a firm that wait, in the order in which they came, in one round or in several. */
export interface Lap {
  /** The last line of the part that was gone through; null before the first. */
  after: Pick<NewerSetAside, 'receivedAt' | 'client' | 'mutation'> | null;
  /** By which chance the lap begins somewhere, as long as it did not begin; null for at the first line. */
  beginsBy: (() => number) | null;
  /** It began somewhere, so the first lines are still to come when the end is reached. */
  wraps: boolean;
  /** Had their turn, however it ended: none comes twice, and none stops those behind it. */
  readonly tried: Set<string>;
  /** Of these, what failed by a fault of ours or took too long, or of which it is not known what became. */
  readonly failed: Set<string>;
  /** Overran in the lap before with what waits for them: tried without that now. */
  readonly alone: ReadonlySet<string>;
  /** Overran in this one with what waits for them. */
  readonly overran: Set<string>;
  /** Waited for a line that was applied without them: each is tried by itself. */
  readonly companions: Set<string>;
  /** Of these, what failed by a fault of ours or took too long: again in the next lap. */
  readonly failedCompanions: Set<string>;
}

export function newLap(before?: Lap, beginsBy: (() => number) | null = null): Lap {
  return {
    after: null,
    beginsBy,
    wraps: false,
    tried: new Set(),
    failed: new Set(),
    alone: before?.overran ?? new Set(),
    overran: new Set(),
    companions: new Set([...(before?.companions ?? []), ...(before?.failedCompanions ?? [])]),
    failedCompanions: new Set(),
  };
}

/**
 * How far the rounds of a process came, firm by firm. A round that ended before its time is gone on with behind the last
 * line that was tried, so that each line gets its turn, and those that failed come again in the next lap.
 */
export class Laps {
  readonly #laps = new Map<string, Lap>();
  readonly #chance: (() => number) | null;

  /**
   * @param chance where the first lap of each firm begins, so that a process that is often begun anew does not meet the
   *   same lines first each time; without it, at the first line
   */
  constructor(chance: (() => number) | null = null) {
    this.#chance = chance;
  }

  of(firm: string): Lap {
    const lap = this.#laps.get(firm) ?? newLap(undefined, this.#chance);
    this.#laps.set(firm, lap);
    return lap;
  }

  /** All lines have had their turn: the next round begins with the first again. */
  ended(firm: string, lap: Lap): void {
    this.#laps.set(firm, newLap(lap));
  }
}
