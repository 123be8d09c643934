import { z } from 'zod';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { CHECK_ACTS } from '../../protocol/kinds/calibration-check.ts';
import { id, instant } from '../../protocol/primitives.ts';
import type { Bracketed } from '../calibration/bracket.ts';
import type { CalibrationAsked } from '../calibration/calibration-asked.ts';
import type { Round } from '../calibration/rounds.ts';

export const STANDINGS = ['covered', 'pending', 'in-question', 'not-judged'] as const;

export const standing = z
  .enum(STANDINGS)
  .describe('Pending: no check after it yet. In question: a person reviews. Not judged: the plan names no limits');

const OUTCOMES = ['pass', 'fail', 'cannot-tell', 'calibrated', 'not-judged'] as const;

/** Standards read with one sensor one after another. */
export const roundOutput = z.strictObject({
  parameter: z.enum(PARAMETERS),
  act: z.enum(CHECK_ACTS),
  at: instant.describe('Of its first standard, as entered'),
  outcome: z.enum(OUTCOMES).describe('Passed where the last try in every standard passed'),
  checks: z.array(id).describe('The records, one a standard and try'),
  sentences: z.array(z.string()).describe('What each standard gave'),
});
export type RoundTold = z.output<typeof roundOutput>;

export function roundTold(round: Round, parameter: RoundTold['parameter'], isJudged: boolean): RoundTold {
  const sentences = isJudged && round.act === 'checked' ? round.checks.map(({ result }) => result.sentence) : [];
  return {
    parameter,
    act: round.act,
    at: round.at,
    outcome: isJudged || round.outcome === 'calibrated' ? round.outcome : 'not-judged',
    checks: round.checks.map(({ check }) => check.id),
    sentences,
  };
}

/** Of many brackets the gravest. */
export function gravestStanding(brackets: readonly Bracketed[]): Bracketed['standing'] {
  const found = new Set(brackets.map((one) => one.standing));
  if (found.has('in-question')) return 'in-question';
  return found.has('pending') ? 'pending' : 'covered';
}

/** Each reason once, no more than a person reads. */
const MOST_REASONS = 10;

export function reasonsOf(brackets: readonly Bracketed[]): string[] {
  return [...new Set(brackets.flatMap(({ reasons }) => reasons))].slice(0, MOST_REASONS);
}

export function sourcesOf(asked: CalibrationAsked | null): string[] {
  return asked ? [asked.set.source, asked.set.bracketSource] : [];
}
