import { wellSetUpPlan } from '../../reads/well-set-up-plan.ts';
import { storedPlanOutput } from '../../rules/pump-set-up/stored-plan.ts';
import { storedPlanInput } from '../../rules/pump-set-up/stored-plan-input.ts';
import { STATEMENT_COST } from './connections.ts';
import { questionCost, questionTypes, readAsked } from './questions.ts';
import type { GraphTypes } from './types.ts';

/** The well and the units, its observations one by one, its summaries. */
const STATEMENTS = 9;

/** Set-up plan of a well: the same answer as POST /v1/wells/ID/pump-set-up-plan. */
export function addSetUpPlan(types: GraphTypes): void {
  const { input, answer } = questionTypes(types, 'well-pump-set-up-plan', storedPlanInput, storedPlanOutput);
  types.builder.objectField(types.ofKind('well'), 'pumpSetUpPlan', (t) =>
    t.field({
      type: answer,
      nullable: true,
      description:
        'Which pump goes into it, and how it is set up: from its record, its latest level, sounding and intake, and the ' +
        'records of the units named. What is given goes before what is on record.',
      args: { input: t.arg({ type: input, required: true }) },
      complexity: (args) => ({
        field: questionCost(args as { readonly input?: unknown }).field + STATEMENTS * STATEMENT_COST,
        multiplier: 1,
      }),
      resolve: (well, args, g) => {
        const asked = readAsked(storedPlanInput, args.input);
        return g.reads.ask((tx, feeds) => wellSetUpPlan(tx, feeds, well.id, asked));
      },
    }),
  );
}
