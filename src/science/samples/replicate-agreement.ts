import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText, productText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';
import { relativePercentDifference } from './rpd.ts';

/** A result, or null where nothing was detected at the reporting limit. */
export interface ReplicatePair {
  readonly first: string | null;
  readonly second: string | null;
  /** In the unit of both results. */
  readonly reportingLimit: string;
}

export interface ReplicateLimits {
  readonly rpdPercent: string;
  /** Below so many reporting limits the difference counts: 5 in common use. */
  readonly lowBelowTimes: string;
  /** The difference may be so many reporting limits: 1, in some programmes 2. */
  readonly lowWithinTimes: string;
}

export interface ReplicateAgreement {
  /** `both-undetected` says nothing of precision, and is no failure. */
  readonly by: 'rpd' | 'difference' | 'both-undetected';
  /** Percent to two places, or the difference in the unit of the results; null where neither was detected. */
  readonly figure: string | null;
  readonly within: boolean | null;
}

/** An undetected result stands at the reporting limit for the difference, which is the nearest it can be. */
function byDifference(first: string, second: string, allowed: string): ReplicateAgreement {
  const figure = differenceText(first, second).replace('-', '');
  return { by: 'difference', figure, within: compareText(figure, allowed) <= 0 };
}

/**
 * Whether a sample and its replicate agree: by RPD where both are well above the reporting limit, by the difference where
 * one is near it, and not at all where nothing was detected in either.
 *
 * Source: US EPA, National Functional Guidelines and conventions of Region 1, from memory.
 *
 * @example replicateAgreement({ first: '3', second: '3.8', reportingLimit: '1' }, { rpdPercent: '30', lowBelowTimes: '5', lowWithinTimes: '1' })
 */
export function replicateAgreement(pair: ReplicatePair, limits: ReplicateLimits): ReplicateAgreement | Refusal {
  const { first, second, reportingLimit } = pair;
  const unread = unreadable({ ...limits, reportingLimit, first: first ?? undefined, second: second ?? undefined });
  if (unread) return unread;
  if (compareText(reportingLimit, '0') <= 0)
    return refuse(`A reporting limit of ${reportingLimit} is none: give it above 0.`);
  if (first === null && second === null) return { by: 'both-undetected', figure: null, within: null };
  const low = productText(reportingLimit, limits.lowBelowTimes);
  const [a, b] = [first ?? reportingLimit, second ?? reportingLimit];
  if ([a, b].some((result) => compareText(result, low) < 0))
    return byDifference(a, b, productText(reportingLimit, limits.lowWithinTimes));
  const rpd = relativePercentDifference(a, b, limits.rpdPercent);
  return isRefusal(rpd) ? rpd : { by: 'rpd', figure: rpd.percent, within: rpd.within };
}
