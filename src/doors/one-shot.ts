import { v5 } from 'uuid';
import type { Context } from '../context.ts';
import { canonicalText } from '../protocol/content-hash.ts';
import type { Outcome, Verb } from '../protocol/mutation.ts';
import { Problem } from '../protocol/problem.ts';
import type { DeviceClock } from '../protocol/record.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import type { Actor, Batch } from '../writes/batch.ts';
import { checkValues } from './check-values.ts';

/** One mutation that comes as a request of its own, through REST or GraphQL. */
export interface OneShot {
  readonly verb: Verb;
  readonly kind: string;
  /** Null for a new record whose writer leaves its id to the server. */
  readonly id: string | null;
  readonly set?: Readonly<Record<string, unknown>>;
  readonly base?: { readonly rev: number };
  readonly reason?: string;
  readonly requires?: readonly string[];
  readonly by?: string;
  readonly clock?: DeviceClock;
}

export interface OneShotAnswer {
  readonly outcome: Outcome;
  /** The outcome byte for byte as it was stored. */
  readonly text: string;
  /** The same request was answered before. */
  readonly repeated: boolean;
}

/** The client that a token and a key name. */
export function oneShotClient(actor: Actor, key: string): string {
  return v5(key, actor.token);
}

/**
 * A request of its own is a client with one mutation: the key that names the request, and the token, name the client.
 * The same key with the same content therefore meets the receipt of the first, whichever door it comes through.
 *
 * @throws Problem `unreadable_record` for a value that has no text: GraphQL can write a number beyond all numbers
 */
export function oneShotBatch(actor: Actor, key: string, shot: OneShot): Batch {
  const client = oneShotClient(actor, key);
  const mutation = { ...shot, mutationId: 1, id: shot.id ?? v5('record', client) };
  checkValues(mutation, '');
  const bytes = Buffer.from(canonicalText(mutation));
  return {
    actor,
    client,
    first: 1,
    lines: [{ bytes, text: bytes.toString('utf8') }],
    schemaVersion: SCHEMA_VERSION,
    sent: null,
    roundTripMs: 0,
    unsent: null,
    oneShot: true,
    carried: false,
  };
}

/**
 * Hands one mutation to the write door.
 *
 * @param key the Idempotency-Key, or the id of the request where none was given
 * @throws Problem `key_reused` where the key came with another content before
 */
export async function writeOnce(ctx: Context, actor: Actor, key: string, shot: OneShot): Promise<OneShotAnswer> {
  const answer = await ctx.lane(oneShotBatch(actor, key, shot));
  if (answer.status === 'reused') {
    throw new Problem('key_reused', `the key ${JSON.stringify(key.slice(0, 80))} was used for another content before`);
  }
  const [text] = answer.status === 'answered' ? answer.outcomes : [];
  if (answer.status !== 'answered' || text === undefined) {
    throw new Error(`a single mutation was answered ${answer.status}`);
  }
  return { outcome: JSON.parse(text) as Outcome, text, repeated: answer.repeated > 0 };
}
