import type { Context } from '../context.ts';
import { canonicalText } from '../protocol/content-hash.ts';
import type { Outcome } from '../protocol/mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import type { Actor, Batch } from '../writes/batch.ts';
import type { OneShot } from './one-shot.ts';

/**
 * Hands several changes to the write door in one transaction.
 *
 * @param client a new one: whoever may repeat it gives each record an id that follows from what it says
 */
export async function writeMany(
  ctx: Pick<Context, 'lane'>,
  actor: Actor,
  client: string,
  shots: readonly (OneShot & { readonly id: string })[],
): Promise<readonly Outcome[]> {
  if (shots.length === 0) return [];
  const lines = shots.map((shot, at) => {
    const bytes = Buffer.from(canonicalText({ ...shot, mutationId: at + 1 }));
    return { bytes, text: bytes.toString('utf8') };
  });
  const how = {
    schemaVersion: SCHEMA_VERSION,
    sent: null,
    roundTripMs: 0,
    unsent: null,
    oneShot: true,
    carried: false,
  };
  const batch: Batch = { actor, client, first: 1, lines, ...how };
  const answer = await ctx.lane(batch);
  if (answer.status !== 'answered') throw new Error(`changes of a new client were answered ${answer.status}`);
  return answer.outcomes.map((text) => JSON.parse(text) as Outcome);
}
