import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import { LONGEST_H } from '../../protocol/calibration-plan.ts';
import { type Round, roundsAt } from './rounds.ts';

/** What the last round before a reading says of it. */
export type StartStanding = 'vouched' | 'none' | 'failed' | 'cannot-tell' | 'not-checked-since-calibration';
/** What the first round after it says. */
export type EndStanding = 'passed' | 'pending' | 'failed' | 'cannot-tell' | 'calibrated-again';

/** The rounds of one sensor around a reading, and what they say of it. */
export interface Around {
  readonly before: Round | undefined;
  readonly after: Round | undefined;
  /**
   * Rounds since the last calibration before the reading, as far back as a round vouches, and the one after it: their
   * standards span its value.
   */
  readonly era: readonly Round[];
  readonly start: StartStanding;
  readonly end: EndStanding;
  /** The last one since the calibration that vouches: a failed check puts every reading since then in question. */
  readonly lastPass: Round | undefined;
}

/** The instant as it was entered, without its seconds and offset: "2026-05-04 07:35". */
export function shownTime({ at }: Pick<Round, 'at'>): string {
  return at.slice(0, 16).replace('T', ' ');
}

function startOf(before: Round | undefined, set: CheckLimitSet): StartStanding {
  if (before === undefined) return 'none';
  if (before.outcome === 'fail') return 'failed';
  if (before.outcome === 'cannot-tell') return 'cannot-tell';
  return before.outcome === 'calibrated' && set.startBy === 'check' ? 'not-checked-since-calibration' : 'vouched';
}

function endOf(after: Round | undefined): EndStanding {
  if (after === undefined) return 'pending';
  if (after.outcome === 'fail') return 'failed';
  if (after.outcome === 'calibrated') return 'calibrated-again';
  return after.outcome === 'pass' ? 'passed' : 'cannot-tell';
}

const MS_PER_H = 3_600_000;

/**
 * A round that goes on after the reading is two: what was checked later says nothing of how the meter stood before it.
 *
 * @param rounds of one sensor, earliest first
 * @param longestH how long a round vouches
 */
export function aroundReading(
  rounds: readonly Round[],
  atMs: number,
  { set, longestH = LONGEST_H }: { readonly set: CheckLimitSet; readonly longestH?: number | undefined },
): Around {
  const { earlier, later } = roundsAt(rounds, atMs);
  const calibrated = earlier.findLastIndex((round) => round.act === 'calibrated');
  const [before, after] = [earlier.at(-1), later[0]];
  const since = earlier.slice(Math.max(calibrated, 0));
  const fresh = since.filter(({ startMs }) => atMs - startMs <= longestH * MS_PER_H);
  const era = after === undefined ? fresh : [...fresh, after];
  const lastPass = since.findLast((round) => startOf(round, set) === 'vouched');
  return { before, after, era, start: startOf(before, set), end: endOf(after), lastPass };
}
