import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import type { Code } from '../../protocol/codes.ts';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { outcome } from '../../protocol/mutation.ts';
import { Problem } from '../../protocol/problem.ts';
import { isUnreadable, readMutation } from '../../protocol/read-mutation.ts';
import type { Actor } from '../../writes/batch.ts';
import { type OneShot, type OneShotAnswer, oneShotBatch, writeOnce } from '../one-shot.ts';
import { answer, BODY_CODES, problems } from './problem-docs.ts';

/** Headers of every change. */
export const changeHeaders = z.looseObject({
  'idempotency-key': z
    .string()
    .min(1)
    .max(255)
    .optional()
    .describe('A request repeated under its key is done once and answered the same; one key a request'),
});

export const ifMatchHeaders = changeHeaders.extend({
  'if-match': z.string().max(100).optional().describe('The ETag that you read; 412 where it is not the present one'),
});

const outcomeShape = outcome.meta({ id: 'Outcome', description: 'What became of a change' });

/** The documented answers of a route that changes something. */
export function changeAnswers(status: 200 | 201, ...codes: readonly Code[]) {
  const taken = answer(status === 201 ? 'Recorded' : 'Changed', outcomeShape);
  const kept = answer('Kept as it came, waiting for a record, a right or a person', outcomeShape);
  return { [status]: taken, 202: kept, ...problems(...BODY_CODES, 'key_reused', ...codes) };
}

/** What names a request: its Idempotency-Key, or else its own id, under which nothing is ever repeated. */
export function keyOf(request: FastifyRequest): string {
  const key = request.headers['idempotency-key'];
  return typeof key === 'string' && key !== '' ? key : request.id;
}

/** A field of the mutation as the sender of a body knows it. */
function inBody(pointer: string | undefined): { pointer?: string } {
  return pointer === undefined ? {} : { pointer: pointer.replace(/^\/set(?=\/|$)/, '') };
}

/** What cannot be read is refused here, so that only what can be read is ever kept. */
function checkReadable(text: string): void {
  const bytes = Buffer.byteLength(text);
  if (bytes > LIMITS.mutationBytes) {
    const detail = `the change has ${bytes} bytes; the limit is mutationBytes ${LIMITS.mutationBytes}`;
    throw new Problem('too_large', detail, { limit: 'mutationBytes' });
  }
  const read = readMutation(text);
  if (isUnreadable(read)) throw new Problem(read.code, read.detail, inBody(read.pointer));
}

/** Hands one change to the write door; what cannot be read is not stored. */
export async function change(ctx: Context, actor: Actor, key: string, shot: OneShot): Promise<OneShotAnswer> {
  for (const line of oneShotBatch(actor, key, shot).lines) checkReadable(line.text ?? '');
  return writeOnce(ctx, actor, key, shot);
}

/** The outcome as a refusal: of a single request it has the status of its code. */
export function refusalOf({ outcome: { code, detail, pointer } }: OneShotAnswer): Problem {
  return new Problem((code ?? 'internal') as Code, detail ?? 'refused', inBody(pointer));
}

/**
 * Answers with the outcome as it was stored: 201 for a new record, 200 for a change, 202 for what was set aside.
 *
 * @throws Problem with the code of the outcome where it was refused
 */
export function answerChange(reply: FastifyReply, shot: OneShot, done: OneShotAnswer): FastifyReply {
  const { outcome: became, text, repeated } = done;
  if (repeated) reply.header('idempotent-replay', 'true');
  if (became.outcome === 'refused') throw refusalOf(done);
  reply.type('application/json');
  if (became.outcome === 'set_aside') return reply.code(202).send(text);
  const plural = kindNamed(became.kind ?? '')?.plural;
  if (shot.verb === 'record') reply.code(201).header('location', `/v1/${plural}/${became.id}`);
  // resolving and releasing change another record than the one addressed
  if (became.kind === shot.kind) reply.header('etag', `"${became.rev}"`);
  return reply.send(text);
}
