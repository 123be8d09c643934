import type { FastifyRequest } from 'fastify';
import type { Context } from '../../context.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import { Problem } from '../../protocol/problem.ts';
import { oneRecord } from '../../reads/one-record.ts';
import { wasReceived } from '../../store/read/receipt.ts';
import { oneShotClient } from '../one-shot.ts';
import { keyOf } from './change.ts';
import { etagOf, revisionOf } from './etag.ts';

/** The revision that a writer had seen. */
export type Base = { readonly rev: number } | undefined;

function isRepeated(ctx: Context, { actor }: FastifyRequest, key: string): Promise<boolean> {
  return ctx.records.read(actor.firm, (tx) => wasReceived(tx, oneShotClient(actor, key), 1));
}

/**
 * Checks that the record to be changed is there for the reader and, where If-Match names a revision, that it is the
 * present one. A request that is only repeated is not checked again: its receipt answers it. A change of another that
 * comes between this check and the write is merged, as with `base`.
 *
 * @param given what the body says was seen
 * @returns what was seen: as the body says, or else as If-Match does
 * @throws Problem `record_missing`, `revision_differs`
 */
export async function aimAt(
  ctx: Context,
  request: FastifyRequest,
  target: { readonly kind: KindDefinition; readonly id: string },
  given: Base,
): Promise<Base> {
  const record = await oneRecord(ctx, request.actor, target.kind, target.id);
  const named = revisionOf(request.headers['if-match']);
  if (named === null) return given;
  if (named !== record.state.rev && !(await isRepeated(ctx, request, keyOf(request)))) {
    const detail = `If-Match names revision ${named}; the present one is ${record.state.rev}`;
    throw new Problem('revision_differs', detail, { present: etagOf(target.kind, record) });
  }
  return given ?? { rev: named };
}

/** @throws Problem `base_missing` */
export function mustKnow(base: Base): NonNullable<Base> {
  if (base !== undefined) return base;
  throw new Problem('base_missing', 'neither If-Match nor `base` says what you had seen');
}
