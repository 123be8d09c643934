import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { id } from '../../../protocol/primitives.ts';
import { discrepancyTold } from '../../../rules/laboratory/discrepancies-told.ts';
import { receiptGiven } from '../../../rules/laboratory/receipt/receipt-given.ts';
import { LABORATORY } from '../../authenticate.ts';
import { type ReceiptAsked, takeReceipt } from '../../take-receipt.ts';
import { type Api, WRITERS } from '../api.ts';
import { change, changeHeaders, keyOf, refusalOf } from '../change.ts';
import { idParams } from '../list-shapes.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const tags = ['laboratory'];

const receiptOfOffice = receiptGiven
  .extend({
    laboratory: id.optional().describe('Which one received it. Default: where the cooler goes'),
    typedBy: id.optional().describe('The member who types this. Default: whoever is at the device of the token'),
  })
  .meta({ id: 'ReceiptGivenByOffice' });

const taken = z
  .strictObject({
    receipt: id,
    discrepancies: z.array(discrepancyTold).describe('What does not agree with what was sent; open until decided'),
  })
  .meta({ id: 'ReceiptTaken' });

const response = {
  201: answer('Taken, with what does not agree', taken),
  ...problems(...BODY_CODES, 'record_missing', 'key_reused'),
};

async function take(ctx: Context, request: FastifyRequest, reply: FastifyReply, asked: Omit<ReceiptAsked, 'key'>) {
  const isNamed = request.headers['idempotency-key'] !== undefined;
  const told = await takeReceipt(
    ctx,
    request.actor,
    { ...asked, key: isNamed ? keyOf(request) : null },
    {
      async write(shot, key, isThere) {
        const done = await change(ctx, request.actor, key, shot);
        if (done.repeated) reply.header('idempotent-replay', 'true');
        const isWaiting = done.outcome.outcome === 'set_aside' && !isThere;
        if (isWaiting || done.outcome.outcome === 'refused') throw refusalOf(done);
      },
      repeated: () => reply.header('idempotent-replay', 'true'),
    },
  );
  return reply.code(201).send(told);
}

/** POST /laboratory/events/ID/receipts and POST /events/ID/receipts. */
export function receiptRoutes(api: Api, ctx: Context): void {
  const own = {
    operationId: 'receiveCooler',
    summary: 'Say what was found when a cooler was opened',
    description:
      'Temperature, ice, seals, count, and the labels as read or the bottles that something is to be said of. Whatever does not agree with what was sent is opened as an item for a person to decide, on both sides; what is warm is judged bottle by bottle. What can only be a typing error (a date to come, 450 °C) is refused, and what is doubtful is opened as an item. The same said again of a cooler or of bottles without an Idempotency-Key is the same receipt.',
    tags,
    params: idParams,
    headers: changeHeaders,
    body: receiptGiven,
    response,
  };
  api.post('/laboratory/events/:id/receipts', { schema: own, config: { access: LABORATORY } }, (request, reply) =>
    take(ctx, request, reply, { event: request.params.id, given: request.body }),
  );
  const office = {
    ...own,
    operationId: 'recordReceiptOfLaboratory',
    summary: 'Type in what a laboratory found when it opened a cooler',
    body: receiptOfOffice,
  };
  api.post('/events/:id/receipts', { schema: office, config: { access: WRITERS } }, (request, reply) => {
    const { laboratory, typedBy, ...given } = request.body;
    return take(ctx, request, reply, { event: request.params.id, given, laboratory, typedBy });
  });
}
