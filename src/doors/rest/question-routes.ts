import type { Context } from '../../context.ts';
import { id } from '../../protocol/primitives.ts';
import { readWhichWell } from '../../reads/which-well.ts';
import { whichWellInput, whichWellOutput } from '../../rules/which-well-shape.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { answer, BODY_CODES, problems } from './problem-docs.ts';

const question = whichWellInput
  .extend({ well: id.describe('The well that you believe to stand at') })
  .meta({ id: 'WhichWellQuestion' });

const wellAnswer = whichWellOutput.meta({ id: 'WhichWellAnswer' });

/** POST /questions/which-well: asked before the pump goes in; nothing is stored. */
export function questionRoutes(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'askWhichWell',
    summary: 'Which well of the nest was sounded',
    description: 'Answered from the stored depths of the well and its nest; says unknown rather than guess.',
    tags: ['question'],
    body: question,
    response: { 200: answer('What fits', wellAnswer), ...problems('record_missing', ...BODY_CODES) },
  };
  api.post('/questions/which-well', { schema, config: { access: EVERY_ROLE } }, async (request) =>
    readWhichWell(ctx, request.actor, request.body),
  );
}
