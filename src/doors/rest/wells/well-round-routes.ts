import type { Context } from '../../../context.ts';
import { wellHistory, wellLastRound, wellUnlike } from '../../../reads/well-history.ts';
import { historyHereOutput, historyInput } from '../../../rules/well-rounds/history-here.ts';
import { lastRoundHereOutput, lastRoundInput } from '../../../rules/well-rounds/last-round-here.ts';
import { unlikeHereOutput, unlikeInput } from '../../../rules/well-rounds/unlike-here.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['question'];
const OFFLINE =
  'Answered from the summaries of the visits that ended, which are in the feed of the site: a phone gives the same answer without a signal.';

function lastRoundRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getWellLastRound',
    summary: 'What was done at this well last round',
    description: `Intake, flow, setting, purge time and end of the last visit that was pumped, and whether the intake fits the water of today. ${OFFLINE}`,
    tags,
    params: idParams,
    querystring: lastRoundInput,
    response: {
      200: answer('What was done, or why nothing is known', lastRoundHereOutput.meta({ id: 'WellLastRound' })),
      ...problems('record_missing'),
    },
  };
  api.get('/wells/:id/last-round', { schema, config }, async ({ actor, params, query }) =>
    wellLastRound(ctx, actor, params.id, { ...query, at: ctx.now().toISOString() }),
  );
}

function unlikeRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getWellUnlike',
    summary: 'Whether what was just measured is unlike this well',
    description: `Compares with one figure of each earlier event; depths below another measuring point are converted or left out with the reason. ${OFFLINE}`,
    tags,
    params: idParams,
    querystring: unlikeInput,
    response: {
      200: answer('What is unlike, and what to look at', unlikeHereOutput.meta({ id: 'WellUnlike' })),
      ...problems('record_missing'),
    },
  };
  api.get('/wells/:id/unlike', { schema, config }, async ({ actor, params, query }) =>
    wellUnlike(ctx, actor, params.id, { ...query, at: ctx.now().toISOString() }),
  );
}

function roundsRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getWellRounds',
    summary: 'What the rounds of this well gave of one quantity, and whether it rises or falls',
    description: `One figure a day with its range, and the Mann-Kendall test with the slope of Theil and Sen. ${OFFLINE}`,
    tags,
    params: idParams,
    querystring: historyInput,
    response: {
      200: answer('The rounds and their trend', historyHereOutput.meta({ id: 'WellRounds' })),
      ...problems('record_missing'),
    },
  };
  api.get('/wells/:id/rounds', { schema, config }, async ({ actor, params, query }) =>
    wellHistory(ctx, actor, params.id, { ...query, at: ctx.now().toISOString() }),
  );
}

/** GET /wells/ID/last-round, /wells/ID/unlike and /wells/ID/rounds. */
export function wellRoundRoutes(api: Api, ctx: Context): void {
  lastRoundRoute(api, ctx);
  unlikeRoute(api, ctx);
  roundsRoute(api, ctx);
}
