import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import type { Round } from './rounds.ts';

/** What the last round before a reading says of it. */
export type StartStanding = 'vouched' | 'none' | 'failed' | 'cannot-tell' | 'not-checked-since-calibration';
/** What the first round after it says. */
export type EndStanding = 'passed' | 'pending' | 'failed' | 'cannot-tell' | 'calibrated-again';

/** The rounds of one sensor around a reading, and what they say of it. */
export interface Around {
  readonly before: Round | undefined;
  readonly after: Round | undefined;
  /** Rounds since the last calibration before the reading, up to the one after it. */
  readonly era: readonly Round[];
  readonly start: StartStanding;
  readonly end: EndStanding;
  /** The last round of the era that vouches: a failed check after it puts every reading since then in question. */
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

/** @param rounds of one sensor, earliest first */
export function aroundReading(rounds: readonly Round[], atMs: number, set: CheckLimitSet): Around {
  const earlier = rounds.filter((round) => round.startMs <= atMs);
  const calibrated = earlier.findLastIndex((round) => round.act === 'calibrated');
  const before = earlier.at(-1);
  const after = rounds[earlier.length];
  const since = earlier.slice(Math.max(calibrated, 0));
  const era = after === undefined ? since : [...since, after];
  const lastPass = era.findLast((round) => round !== after && startOf(round, set) === 'vouched');
  return { before, after, era, start: startOf(before, set), end: endOf(after), lastPass };
}
