import type { Context } from '../../../context.ts';
import { readEventKit } from '../../../reads/event-kit.ts';
import { kitInput, kitOutput } from '../../../rules/kit/kit-told.ts';
import { EVERY_ROLE } from '../../authenticate.ts';
import type { Api } from '../api.ts';
import { idParams } from '../list-shapes.ts';
import { answer, problems } from '../problem-docs.ts';

/** GET /events/ID/kit. */
export function kitRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventKit',
    summary: 'What a crew takes along for a day, and what is short, missing or past its date',
    description:
      'From the plan of the event, the wells of the crew that are still to be done and the units signed out to it: bottles, standards, gas, ice, room in the drum, keys and gate notes; beside what the last check of the kit on that day found.',
    tags: ['equipment'],
    params: idParams,
    querystring: kitInput,
    response: {
      200: answer('The kit', kitOutput.meta({ id: 'EventKit' })),
      ...problems('record_missing', 'bad_request'),
    },
  };
  api.get('/events/:id/kit', { schema, config: { access: EVERY_ROLE } }, async ({ actor, params, query }) =>
    readEventKit(ctx, actor, params.id, { ...query, now: ctx.now().toISOString() }),
  );
}
