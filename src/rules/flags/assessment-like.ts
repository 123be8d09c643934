import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';

/** What the rules need of an assessment; the record's fields fit it. */
export interface AssessmentLike {
  readonly missing: readonly string[];
  readonly conditions: {
    readonly drawdown: Pick<AssessmentFields['conditions']['drawdown'], 'status' | 'required' | 'because'>;
  };
  readonly call: Pick<AssessmentFields['call'], 'agreement' | 'call' | 'because'>;
}
