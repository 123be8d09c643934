import type { AssessmentLike } from './assessment-like.ts';

type Changes = {
  readonly drawdown?: Partial<AssessmentLike['conditions']['drawdown']>;
  readonly call?: Partial<AssessmentLike['call']>;
  readonly missing?: readonly string[];
  readonly limits?: AssessmentLike['limits'];
};

/** The assessment of an ordinary purge for the cases: steady, and the call agrees. */
export function assessmentLike({ drawdown, call, missing, limits }: Changes): AssessmentLike {
  return {
    missing: missing ?? [],
    limits,
    conditions: { drawdown: { status: 'within', required: false, because: 'The level is steady.', ...drawdown } },
    call: { agreement: 'agrees', ...call },
  };
}
