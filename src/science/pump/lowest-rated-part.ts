import { type Refusal, refuse } from '../refusal.ts';
import { compareText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/** Every part that carries the pressure of the gas. */
export const PRESSURE_PARTS = ['pump', 'tubing', 'fitting', 'regulator'] as const;
export type PressurePart = (typeof PRESSURE_PARTS)[number];

/** Parts that carry it as well, and count where their rating is recorded. */
export const FURTHER_PRESSURE_PARTS = ['bladder', 'other'] as const;
export type CarryingPart = PressurePart | (typeof FURTHER_PRESSURE_PARTS)[number];

export interface RatedPart {
  readonly part: CarryingPart;
  readonly label: string;
  readonly maximumPsi: string | undefined;
}

export interface LowestRated {
  readonly part: CarryingPart;
  readonly label: string;
  readonly maximumPsi: string;
}

/** What has to be recorded before any pressure may be named: parts without a unit, and units without a rating. */
export function ratingsToRecord(parts: readonly RatedPart[]): string[] {
  const absent = PRESSURE_PARTS.filter((kind) => !parts.some((one) => one.part === kind));
  const needed: readonly string[] = PRESSURE_PARTS;
  const unrated = parts.filter((one) => one.maximumPsi === undefined && needed.includes(one.part));
  return [
    ...absent.map((kind) => `which ${kind} is used and its maximum rating in psi`),
    ...unrated.map((one) => `the maximum rating in psi of the ${one.part} ${one.label}`),
  ];
}

/**
 * The part that carries least. Without a recorded rating of each part there is no answer: an unknown part may be the
 * weakest.
 *
 * Source: common practice, no source: never above the rating of the weakest part. Limits: ratings at the temperature
 * of use, parts without damage.
 *
 * @example lowestRatedPart([...]) // { part: 'tubing', label: 'T-4', maximumPsi: '80' }
 */
export function lowestRatedPart(parts: readonly RatedPart[]): LowestRated | Refusal {
  const missing = ratingsToRecord(parts);
  if (missing.length > 0) return refuse(`No pressure is named before it is recorded: ${missing.join('; ')}.`);
  const rated = parts.filter((one): one is LowestRated => one.maximumPsi !== undefined);
  for (const { label, maximumPsi } of rated) {
    const unread = unreadable({ [`The rating of ${label}`]: maximumPsi });
    if (unread) return unread;
    if (compareText(maximumPsi, '0') <= 0)
      return refuse(`A maximum rating of ${maximumPsi} psi of ${label} is none: read the marking again.`);
  }
  return rated.reduce((least, one) => (compareText(one.maximumPsi, least.maximumPsi) < 0 ? one : least));
}
