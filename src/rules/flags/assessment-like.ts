import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';

type Limit = NonNullable<AssessmentFields['limits']>[number];

/** What the rules need of an assessment; the record's fields fit it. */
export interface AssessmentLike {
  readonly missing: readonly string[];
  readonly conditions: {
    readonly drawdown: Pick<AssessmentFields['conditions']['drawdown'], 'status' | 'required' | 'because'>;
  };
  /** Missing where the criteria and the plan set no limit. */
  readonly limits?:
    | readonly Pick<Limit, 'of' | 'limit' | 'status' | 'reading' | 'reachedAt' | 'call'>[]
    | null
    | undefined;
  readonly call: Pick<AssessmentFields['call'], 'agreement' | 'call' | 'because'>;
}
