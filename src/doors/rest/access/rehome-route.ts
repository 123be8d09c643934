import { z } from 'zod';
import type { Context } from '../../../context.ts';
import type { KindDefinition } from '../../../protocol/kind.ts';
import { visit } from '../../../protocol/kinds/visit.ts';
import { id } from '../../../protocol/primitives.ts';
import type { OneShot } from '../../one-shot.ts';
import { aimAt, mustKnow } from '../aim.ts';
import { type Api, WRITERS } from '../api.ts';
import { answerChange, change, changeAnswers, ifMatchHeaders, keyOf } from '../change.ts';
import { type Manner, voidBody } from '../kind-shapes.ts';
import { idParams } from '../list-shapes.ts';

const rehomeBody = z
  .strictObject({
    ...voidBody.shape,
    well: id.optional().describe('The well that was really visited'),
    event: id.optional().describe('The event that the visit belongs to'),
  })
  .meta({ id: 'Rehoming' });

/** POST /visits/ID/rehome. */
export function rehomeRoute(api: Api, ctx: Context): void {
  const kind = visit as unknown as KindDefinition;
  const schema = {
    operationId: 'rehomeVisit',
    summary: 'Move a visit to the right well or event',
    description: 'Everything under it moves along, in the same step and for the same reason.',
    tags: [kind.name],
    params: idParams,
    headers: ifMatchHeaders,
    body: rehomeBody,
    response: changeAnswers(200, 'record_missing', 'revision_differs', 'base_missing', 'nothing_to_change'),
  };
  api.post('/visits/:id/rehome', { schema, config: { access: WRITERS } }, async (request, reply) => {
    const { base: said, well, event, ...manner } = request.body;
    const { id } = request.params;
    const base = mustKnow(await aimAt(ctx, request, { kind, id }, said));
    const set = { ...(well ? { well } : {}), ...(event ? { event } : {}) };
    const shot: OneShot = { verb: 'rehome', kind: kind.name, id, base, set, ...(manner as Manner) };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}
