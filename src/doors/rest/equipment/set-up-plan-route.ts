import type { Context } from '../../../context.ts';
import { readWellSetUpPlan } from '../../../reads/well-set-up-plan.ts';
import { storedPlanOutput } from '../../../rules/pump-set-up/stored-plan.ts';
import { storedPlanInput } from '../../../rules/pump-set-up/stored-plan-input.ts';
import { pumpSetUpPlan } from '../../../rules/questions/pump-set-up-plan.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

/** POST /wells/ID/pump-set-up-plan: asked before the pump goes in; nothing is stored. */
export function setUpPlanRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'askWellPumpSetUpPlan',
    summary: 'Which pump goes into this well on record, and how is it set up?',
    description:
      'As /v1/questions/pump-set-up-plan, but the well, its latest level, sounding and intake, and the units named are ' +
      `taken from their records. What is given goes before what is on record; \`taken\` says what came from where. ${pumpSetUpPlan.description}`,
    tags: ['question'],
    params: idParams,
    body: storedPlanInput.meta({ ...storedPlanInput.meta(), id: 'WellPumpSetUpPlanQuestion' }),
    response: {
      200: answer('The plan, or why there is none', storedPlanOutput.meta({ id: 'WellPumpSetUpPlanAnswer' })),
      ...problems('record_missing', ...BODY_CODES),
    },
  };
  api.post('/wells/:id/pump-set-up-plan', { schema, config: { access: EVERY_ROLE } }, async (request) =>
    readWellSetUpPlan(ctx, request.actor, request.params.id, request.body),
  );
}
