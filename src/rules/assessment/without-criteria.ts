import { criteriaSets } from '../../catalog/criteria-sets.ts';
import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import type { AssessmentInput } from './assessment-input.ts';

/** The assessment of a purge whose plan cites a criteria set that this edition of the catalog does not have. */
export function withoutCriteria({ plan, purge }: AssessmentInput): AssessmentFields {
  const because = `The plan cites the criteria set ${plan.criteria}, which is not in the catalog.`;
  const known = criteriaSets.map(({ id }) => id).join(', ');
  return {
    purge: purge.id,
    criteria: { id: plan.criteria, verified: false },
    decisions: [],
    stable: false,
    window: [],
    readingsNeeded: 0,
    parameters: [],
    conditions: {
      interval: { criteriaS: 0, graceS: 0, turnover: 'not-known', because },
      flow: { status: 'not-known', because },
      drawdown: { status: 'not-known', required: false, because },
      minimumPurge: { status: 'not-known', required: false, because },
    },
    missing: [`${because} Give one of: ${known}.`],
    advice: [],
    otherArithmetics: [],
    call: { agreement: 'none' },
  };
}
