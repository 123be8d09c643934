import type { Outcome } from '../protocol/mutation.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { type BeforePush, checkBeforePush } from './before-push.ts';
import type { FieldClient } from './client.ts';
import { type ClientContext, identityOf } from './context.ts';
import { type FeedReset, type PullResult, pullAll } from './pull.ts';
import { type PushResult, pushAll } from './push.ts';
import { type CarriedPush, carriedUnanswered, pushCarried } from './push-carried.ts';
import type { Identity } from './store.ts';
import { NO_ANSWER, type Problem } from './transport.ts';
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
  /** The server had more of this phone than it remembers: it runs on a backup, or another phone on a copy of it. */
  readonly restored: boolean;
  /** Newer than this app: it may show less than there is. Older: it may keep what it cannot read yet. Null: not heard. */
  readonly serverVersion: 'same' | 'newer' | 'older' | null;
  readonly unsent: Unsent;
  /** What became of the copies of other phones' outboxes. */
  readonly carried: CarriedPush;
  /** Why the sync is not complete; null when it is. Nothing is lost in any case. */
  readonly problem: Problem | null;
  /** Not before this time, if the server asked for patience. */
  readonly retryAfterMs: number | null;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}

interface Parts {
  readonly checks: BeforePush[];
  readonly pushes: PushResult[];
  readonly carries: CarriedPush[];
  readonly pulls: PullResult[];
}

interface Left {
  readonly restored: boolean;
  readonly serverVersion: SyncReport['serverVersion'];
  readonly unsent: Unsent;
  readonly carried: CarriedPush;
}

function reportOf({ checks, pushes, pulls }: Parts, problem: Problem | null, left: Left): SyncReport {
  const outcomes = pushes.flatMap((push) => push.outcomes);
  const all = [...checks, ...pushes, ...pulls];
  return {
    pushed: outcomes.length,
    outcomes,
    pulled: sum(pulls.map((pull) => pull.rows)),
    resets: [...checks, ...pulls].flatMap((part) => part.resets),
    repaired: pulls.flatMap((pull) => pull.repaired),
    differing: pulls.flatMap((pull) => pull.differing),
    dropped: pulls.flatMap((pull) => pull.dropped),
    replayed: sum(all.map((part) => part.replayed)),
    newIdentities: sum(all.map((part) => part.newIdentities)),
    ...left,
    problem,
    retryAfterMs: problem?.retryAfterMs ?? null,
  };
}

function serverVersionIn({ line }: ClientContext): SyncReport['serverVersion'] {
  const version = line.serverVersion;
  if (version === null || version === SCHEMA_VERSION) return version === null ? null : 'same';
  return version > SCHEMA_VERSION ? 'newer' : 'older';
}

async function leftIn(context: ClientContext, { carries }: Parts, before: Identity): Promise<Left> {
  const carried: CarriedPush = {
    pushed: sum(carries.map(({ pushed }) => pushed)),
    notTaken: sum(carries.map(({ notTaken }) => notTaken)),
    renumbered: sum(carries.map(({ renumbered }) => renumbered)),
    unanswered: await carriedUnanswered(context),
    problem: carries.at(-1)?.problem ?? null,
  };
  const { formerly } = await identityOf(context.store);
  const restored = formerly !== before.formerly;
  const serverVersion = serverVersionIn(context);
  return { unsent: await unsent(context, context.time.wall()), carried, restored, serverVersion };
}

/** One check, push and pull; the problem that is left. */
async function round(context: ClientContext, { checks, pushes, carries, pulls }: Parts): Promise<Problem | null> {
  const check = await checkBeforePush(context);
  checks.push(check);
  // The line is down. Any other answer must not keep the records on the phone: then they are pushed unchecked.
  if (check.problem?.code === NO_ANSWER) return check.problem;
  const push = await pushAll(context);
  pushes.push(push);
  // After the own work and before the pull, which then brings it; what is in its way is in the way of nothing else.
  if (push.problem?.code !== NO_ANSWER) carries.push(await pushCarried(context));
  const pull = await pullAll(context);
  pulls.push(pull);
  return push.problem ?? pull.problem;
}

async function rounds(context: ClientContext): Promise<SyncReport> {
  const parts: Parts = { checks: [], pushes: [], carries: [], pulls: [] };
  const before = await identityOf(context.store);
  let problem = await round(context, parts);
  // A set-back that the pull has found makes mutations unsent again.
  const { replayed = 0, newIdentities = 0 } = parts.pulls.at(-1) ?? {};
  if (problem === null && replayed + newIdentities > 0) problem = await round(context, parts);
  return reportOf(parts, problem, await leftIn(context, parts, before));
}

/**
 * Pushes until the outbox is empty or something is in the way, then pulls every feed. A second call waits for the
 * first, so that a client never has two pushes in flight. It does not sleep and does not retry by itself: the app
 * decides when the next sync is due, and a problem says what was in the way.
 */
export function syncOnce(client: FieldClient): Promise<SyncReport> {
  return client.context.oneSync(() => rounds(client.context));
}
