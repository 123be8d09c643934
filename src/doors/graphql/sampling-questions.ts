import { owedQc, samplingPlan } from '../../reads/sampling-plan.ts';
import { owedQcInput, owedQcOutput } from '../../rules/sampling-plan/owed-qc-told.ts';
import { samplingPlanInput, samplingPlanOutput } from '../../rules/sampling-plan/plan-told.ts';
import { STATEMENT_COST } from './connections.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

/** The records of the event, its site and the firm in one statement; then a plan of 200 wells took 70 ms. */
const PLAN_COST = 3_000 + 4 * STATEMENT_COST;

/** What is planned of samples and what QC is owed, as fields of the event. */
export function addSamplingQuestions(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'event',
    name: 'samplingPlan',
    path: 'event-sampling-plan',
    description: 'The samples that its plan asks for: the same answer as GET /v1/events/ID/sampling-plan.',
    asked: samplingPlanInput,
    told: samplingPlanOutput,
    cost: PLAN_COST,
    answer: ({ id }, _asked, g) => g.reads.ask((tx, feeds) => samplingPlan(tx, feeds, id)),
  });
  addStoredQuestion(types, {
    of: 'event',
    name: 'owedQc',
    path: 'event-owed-qc',
    description: 'What QC it still owes, and which wells suit: the same answer as GET /v1/events/ID/owed-qc.',
    asked: owedQcInput,
    told: owedQcOutput,
    cost: PLAN_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => owedQc(tx, feeds, id, { ...asked, now: g.ctx.now().toISOString() })),
  });
}
