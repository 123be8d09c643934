import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { discrepancy } from '../../../protocol/kinds/discrepancy.ts';
import { id, LONG_TEXT, text } from '../../../protocol/primitives.ts';
import { Problem } from '../../../protocol/problem.ts';
import { readEventOfSide } from '../../../reads/laboratory/side.ts';
import { discrepancyTold } from '../../../rules/laboratory/discrepancies-told.ts';
import { wasReceived } from '../../../store/read/receipt.ts';
import type { Actor } from '../../../writes/batch.ts';
import { EVERY_ROLE, LABORATORY } from '../../authenticate.ts';
import { laboratoryMember } from '../../laboratory-member.ts';
import { oneShotClient } from '../../one-shot.ts';
import { discrepanciesOfSide } from '../../take-receipt.ts';
import { type Api, OFFICE } from '../api.ts';
import { change, changeHeaders, keyOf, refusalOf } from '../change.ts';
import { idParams } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const tags = ['laboratory'];

const query = z.strictObject({ standing: z.enum(['open', 'decided']).optional().describe('Default: both') });
const items = z.strictObject({ items: z.array(discrepancyTold) });
const params = z.strictObject({ id, discrepancy: id });
const decision = z
  .strictObject({
    decision: text(LONG_TEXT).describe('What is done about it; both sides read it'),
    decidedBy: text().describe('Who decided, by name'),
  })
  .meta({ id: 'Decision' });

const ADDRESSES = [
  { prefix: '', side: 'Office', read: EVERY_ROLE, decide: OFFICE },
  { prefix: '/laboratory', side: 'Laboratory', read: LABORATORY, decide: LABORATORY },
] as const;

interface Deciding {
  readonly actor: Actor;
  readonly key: string;
  readonly at: z.output<typeof params>;
  readonly body: z.output<typeof decision>;
}

async function decide(ctx: Context, { actor, key, at, body }: Deciding) {
  const side = await readEventOfSide(ctx, actor, at.id);
  const find = (told: ReturnType<typeof discrepanciesOfSide>) => told.find((one) => one.id === at.discrepancy);
  const item = find(discrepanciesOfSide(side));
  const record = side.samples.discrepancies.find((one) => side.idOf(one.id) === at.discrepancy);
  if (!item || !record) {
    throw new Problem('record_missing', `no open item ${at.discrepancy} of this event stands on your side`);
  }
  if (item.decides !== (side.laboratory === null ? 'coordinator' : 'laboratory')) {
    const who = item.decides === 'laboratory' ? 'the laboratory' : 'a coordinator of the firm';
    throw new Problem('forbidden', `${who} decides this item (${item.type}); you read it, and what was decided`);
  }
  const isRepeated = await ctx.records.read(actor.firm, (tx) => wasReceived(tx, oneShotClient(actor, key), 1));
  if (isRepeated) return item;
  if (item.standing === 'decided') {
    throw new Problem('already_decided', `it was decided by ${item.decidedBy}: ${item.decision}`);
  }
  const by = side.laboratory === null ? {} : { by: await laboratoryMember(ctx, actor, side.laboratory) };
  const set = { standing: 'decided', ...body, decidedAt: ctx.now().toISOString() };
  const shot = { verb: 'amend', kind: discrepancy.name, id: record.id, base: { rev: record.rev }, set, ...by } as const;
  const done = await change(ctx, actor, key, shot);
  if (['refused', 'set_aside'].includes(done.outcome.outcome)) throw refusalOf(done);
  return find(discrepanciesOfSide(await readEventOfSide(ctx, actor, at.id))) ?? item;
}

/** GET /events/ID/discrepancies, POST /events/ID/discrepancies/ID/decision, and both for a laboratory. */
export function discrepancyRoutes(api: Api, ctx: Context): void {
  for (const { prefix, side, read, decide: deciders } of ADDRESSES) {
    const list = {
      operationId: `list${side}OpenItems`,
      summary: 'What was sent and what was received do not agree: the items of an event',
      description:
        'What is open first, and of that what has to be decided first. Each says who may decide it, and by when.',
      tags,
      params: idParams,
      querystring: query,
      response: { 200: answer('The items', items), ...problems('record_missing') },
    };
    api.get(`${prefix}/events/:id/discrepancies`, { schema: list, config: { access: read } }, async (request) => {
      const { standing } = request.query;
      const told = discrepanciesOfSide(await readEventOfSide(ctx, request.actor, request.params.id));
      return { items: told.filter((one) => standing === undefined || one.standing === standing) };
    });
    const one = {
      operationId: `decide${side}OpenItem`,
      summary: 'Decide an open item',
      tags,
      params,
      headers: changeHeaders,
      body: decision,
      response: {
        200: answer('As it stands now', discrepancyTold),
        ...problems(...BODY_CODES, 'record_missing', 'already_decided', 'key_reused'),
      },
    };
    const address = `${prefix}/events/:id/discrepancies/:discrepancy/decision`;
    api.post(address, { schema: one, config: { access: deciders } }, (request) =>
      decide(ctx, { actor: request.actor, key: keyOf(request), at: request.params, body: request.body }),
    );
  }
}
