import { z } from 'zod';
import type { Context } from '../../context.ts';
import { decimal, id } from '../../protocol/primitives.ts';
import { whichWellStands } from '../../reads/which-well.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { answer, BODY_CODES, problems } from './problem-docs.ts';

const question = z
  .strictObject({
    well: id.describe('The well that you believe to stand at'),
    depthToBottomFt: decimal.describe('As sounded, below the measuring point'),
  })
  .meta({ id: 'WhichWellQuestion' });

const wellAnswer = z
  .strictObject({
    fits: z.enum(['this', 'other', 'none', 'unknown']),
    other: id.optional().describe('The well of the nest that fits instead'),
    misses: z.enum(['deeper', 'shallower']).optional(),
    sentence: z.string(),
  })
  .meta({ id: 'WhichWellAnswer' });

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
    whichWellStands(ctx, request.actor, request.body),
  );
}
