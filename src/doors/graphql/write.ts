import type { GraphQLResolveInfo } from 'graphql';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import { Problem } from '../../protocol/problem.ts';
import { isUnreadable, readMutation } from '../../protocol/read-mutation.ts';
import { type OneShot, type OneShotAnswer, oneShotBatch, writeOnce } from '../one-shot.ts';
import type { GraphContext } from './context.ts';

/** What every write may say beside the record. */
export interface Manner {
  readonly reason?: string | null;
  readonly by?: string | null;
  readonly requires?: readonly string[] | null;
  readonly clock?: OneShot['clock'] | null;
  readonly idempotencyKey?: string | null;
}

const LONGEST_KEY = 255;

/** The roles that may hand in a change at all; what a role may not write is set aside, as in a push. */
const WRITERS = new Set(KINDS.flatMap((kind) => kind.writers));

/** Names the request: by its key, or else by its own id and its place in the query, under which nothing is repeated. */
function keyOf(g: GraphContext, { idempotencyKey }: Manner, info: GraphQLResolveInfo): string {
  if (idempotencyKey == null) return `${g.requestId} ${info.path.key}`;
  if (idempotencyKey.length >= 1 && idempotencyKey.length <= LONGEST_KEY) return idempotencyKey;
  throw new Problem('bad_request', `idempotencyKey has ${idempotencyKey.length} characters; 1 to ${LONGEST_KEY}`);
}

function said({ reason, by, requires, clock }: Manner): Partial<OneShot> {
  return {
    ...(reason == null ? {} : { reason }),
    ...(by == null ? {} : { by }),
    ...(requires == null ? {} : { requires }),
    ...(clock == null ? {} : { clock }),
  };
}

/** What cannot be read is refused here, so that only what can be read is ever kept. */
function checkReadable(text: string | null): void {
  const read = readMutation(text ?? '');
  if (!isUnreadable(read)) return;
  const { code, detail, pointer } = read;
  throw new Problem(
    code,
    detail,
    pointer === undefined ? {} : { pointer: pointer.replace(/^\/set(?=\/|$)/, '/input') },
  );
}

/** A change is of something that its writer may see: what is of another firm, or not followed, is not there. */
async function checkTarget(g: GraphContext, { verb, kind, id }: OneShot): Promise<void> {
  if (verb === 'record' || verb === 'release' || id === null) return;
  if (await g.reads.record(id, kind)) return;
  throw new Problem('record_missing', `no ${kind} ${id} is among the records that you may read`);
}

/**
 * Hands one change to the write door, like a request of its own through REST.
 *
 * @throws Problem `forbidden` for a role that writes nothing, `key_reused`, or why the change cannot be read
 */
export async function write(
  g: GraphContext,
  info: GraphQLResolveInfo,
  change: OneShot,
  manner: Manner,
): Promise<OneShotAnswer> {
  if (!WRITERS.has(g.actor.role)) {
    throw new Problem('forbidden', `the role ${g.actor.role} writes nothing; ${[...WRITERS].join(', ')} do`);
  }
  const shot = { ...change, ...said(manner) };
  const key = keyOf(g, manner, info);
  for (const line of oneShotBatch(g.actor, key, shot).lines) checkReadable(line.text);
  await checkTarget(g, shot);
  // a request that waits for the writer lane is not to sit on a connection that the lane may need
  await g.reads.renew();
  return writeOnce(g.ctx, g.actor, key, shot);
}
