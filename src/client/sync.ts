import type { Outcome } from '../protocol/mutation.ts';
import type { FieldClient } from './client.ts';
import type { ClientContext } from './context.ts';
import { type FeedReset, type PullResult, pullAll } from './pull.ts';
import { type PushResult, pushAll } from './push.ts';
import type { Problem } from './transport.ts';
import { type Unsent, unsent } from './unsent.ts';

export interface SyncReport {
  /** Mutations that the server answered for the first time. */
  readonly pushed: number;
  readonly outcomes: readonly Outcome[];
  /** Rows that came. */
  readonly pulled: number;
  readonly resets: readonly FeedReset[];
  /** Feeds in which single records were found wrong and replaced. */
  readonly repaired: readonly string[];
  /** Feeds whose count or hash is still not the server's: somebody must look. */
  readonly differing: readonly string[];
  /** Feeds that this device may no longer follow. */
  readonly dropped: readonly string[];
  /** Mutations said again because the server was set back. */
  readonly replayed: number;
  /** How often this device took a new client id because its own was not unique. */
  readonly newIdentities: number;
  readonly unsent: Unsent;
  /** Why the sync is not complete; null when it is. Nothing is lost in any case. */
  readonly problem: Problem | null;
  /** Not before this time, if the server asked for patience. */
  readonly retryAfterMs: number | null;
}

/** A set-back that the pull finds makes mutations unsent again: they are pushed in a second round. */
const ROUNDS = 2;

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}

function reportOf(pushes: readonly PushResult[], pulls: readonly PullResult[], left: Unsent): SyncReport {
  const problem = pushes.at(-1)?.problem ?? pulls.at(-1)?.problem ?? null;
  const outcomes = pushes.flatMap((push) => push.outcomes);
  const all = [...pushes, ...pulls];
  return {
    pushed: outcomes.length,
    outcomes,
    pulled: sum(pulls.map((pull) => pull.rows)),
    resets: pulls.flatMap((pull) => pull.resets),
    repaired: pulls.flatMap((pull) => pull.repaired),
    differing: pulls.flatMap((pull) => pull.differing),
    dropped: pulls.flatMap((pull) => pull.dropped),
    replayed: sum(all.map((part) => part.replayed)),
    newIdentities: sum(all.map((part) => part.newIdentities)),
    unsent: left,
    problem,
    retryAfterMs: problem?.retryAfterMs ?? null,
  };
}

async function rounds(context: ClientContext): Promise<SyncReport> {
  const pushes: PushResult[] = [];
  const pulls: PullResult[] = [];
  for (let round = 1; ; round += 1) {
    pushes.push(await pushAll(context));
    const pull = await pullAll(context);
    pulls.push(pull);
    const changed = pull.replayed > 0 || pull.newIdentities > 0;
    if (!changed || pull.problem !== null || round === ROUNDS) break;
  }
  return reportOf(pushes, pulls, await unsent(context, context.time.wall()));
}

/**
 * Pushes until the outbox is empty or something is in the way, then pulls every feed. A second call waits for the
 * first, so that a client never has two pushes in flight. It does not sleep and does not retry by itself: the app
 * decides when the next sync is due, and a problem says what was in the way.
 */
export function syncOnce(client: FieldClient): Promise<SyncReport> {
  return client.context.oneSync(() => rounds(client.context));
}
