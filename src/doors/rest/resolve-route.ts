import { z } from 'zod';
import type { Context } from '../../context.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import { conflict } from '../../protocol/kinds/conflict.ts';
import type { OneShot } from '../one-shot.ts';
import { aimAt, mustKnow } from './aim.ts';
import { type Api, WRITERS } from './api.ts';
import { answerChange, change, changeAnswers, ifMatchHeaders, keyOf } from './change.ts';
import { base as baseShape, type Manner, manner as mannerShape } from './kind-shapes.ts';
import { idParams } from './list-shapes.ts';

const resolveBody = z
  .strictObject({
    ...mannerShape,
    value: z.unknown().optional().describe('The value that stands, one of those given; none for a clash of claims'),
    neither: z.literal(true).optional().describe('Said where the value is none of those given; needs a reason'),
    base: baseShape,
  })
  .meta({ id: 'Resolving' });

/** POST /conflicts/ID/resolve. */
export function resolveRoute(api: Api, ctx: Context): void {
  const kind = conflict as unknown as KindDefinition;
  const codes = ['revision_differs', 'base_missing', 'conflict_changed', 'not_a_conflict'] as const;
  const schema = {
    operationId: 'resolveConflict',
    summary: 'Decide a conflict',
    description: 'Cites the revision of the conflict that was looked at, by If-Match or `base`; makes a resolution.',
    tags: [kind.name],
    params: idParams,
    headers: ifMatchHeaders,
    body: resolveBody,
    response: changeAnswers(200, 'record_missing', ...codes),
  };
  api.post('/conflicts/:id/resolve', { schema, config: { access: WRITERS } }, async (request, reply) => {
    const { base: said, value, neither, ...manner } = request.body;
    const { id } = request.params;
    const base = mustKnow(await aimAt(ctx, request, { kind, id }, said));
    const set = { ...(value === undefined ? {} : { value }), ...(neither === undefined ? {} : { neither }) };
    const shot: OneShot = { verb: 'resolve', kind: kind.name, id, base, set, ...(manner as Manner) };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}
