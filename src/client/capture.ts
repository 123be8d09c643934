import { utf8ToBytes } from '@noble/hashes/utils.js';
import { LIMITS } from '../protocol/limits.ts';
import type { Mutation } from '../protocol/mutation.ts';
import type { DeviceClock } from '../protocol/record.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { baseOf, type Was } from './base.ts';
import { kindOrError } from './check-fields.ts';
import { checkKnown } from './check-known.ts';
import { type ClientContext, identityOf } from './context.ts';
import { LocalError } from './local-error.ts';
import { overlay } from './overlay.ts';
import type { Base } from './own-values.ts';
import { type OwnWork, ownWorkOn } from './own-work.ts';
import type { Identity, OutboxEntry } from './store.ts';

/** What the outbox files decide; numbers, clocks, person and base are added here. */
export type Intent = Pick<Mutation, 'verb' | 'kind' | 'id' | 'set' | 'reason' | 'requires'>;

export interface Captured {
  readonly mutationId: number;
  /** Of all captures on this device; it stays when the client id, and with it the number, changes. */
  readonly sequence: number;
  readonly id: string;
}

function mustBeHere(intent: Intent, work: OwnWork): void {
  if (overlay(work) !== null) return;
  const what = `this device holds no ${intent.kind} ${intent.id}`;
  throw new LocalError('record_not_here', `${what}, so there is nothing to ${intent.verb}; sync first`);
}

/** The values on the screen of the fields that will be changed; a missing one was seen to be missing. */
function shownBefore({ verb, set }: Intent, work: OwnWork): Was {
  if (set === undefined || (verb !== 'amend' && verb !== 'rehome')) return null;
  const shown = overlay(work)?.record.fields ?? {};
  return Object.fromEntries(Object.keys(set).map((field) => [field, shown[field] ?? null]));
}

function clockNow({ time }: ClientContext, sequence: number): DeviceClock {
  return { wall: time.wall(), monotonicMs: Math.max(0, Math.floor(time.monotonicMs())), boot: time.boot, sequence };
}

function lineOf(identity: Identity, intent: Intent, base: Base | undefined, clock: DeviceClock): string {
  const by = identity.person ?? undefined;
  const mutation: Mutation = { mutationId: identity.nextMutation, ...intent, base, by, clock };
  const line = JSON.stringify(mutation);
  const bytes = utf8ToBytes(line).length;
  if (bytes <= LIMITS.mutationBytes) return line;
  throw new LocalError('too_large', `the record takes ${bytes} bytes, more than ${LIMITS.mutationBytes}: shorten it`);
}

/** What is unsent still was captured with an older list in view, and the server is told of one for all. */
async function seenBy({ store, line }: ClientContext, { seen }: Identity): Promise<string | null | undefined> {
  return (await store.outbox()).some((entry) => entry.outcome === null) ? seen : line.seen;
}

async function write(context: ClientContext, intent: Intent): Promise<Captured> {
  const identity = await identityOf(context.store);
  const work = await ownWorkOn(context, intent.id);
  if (intent.verb !== 'record') mustBeHere(intent, work);
  const { client, nextMutation: mutationId } = identity;
  const was = shownBefore(intent, work);
  if (was !== null) checkKnown(kindOrError(intent.kind), was);
  const base = intent.verb === 'record' ? undefined : baseOf(work, client, was);
  const clock = clockNow(context, identity.sequence + 1);
  const line = lineOf(identity, intent, base, clock);
  const { kind, id } = intent;
  const { wall: captured, sequence } = clock;
  const entry: OutboxEntry = {
    client,
    mutationId,
    sequence,
    captured,
    kind,
    id,
    line,
    schemaVersion: SCHEMA_VERSION,
    was,
    outcome: null,
    dismissed: false,
  };
  const seen = (await seenBy(context, identity)) ?? identity.seen ?? null;
  const next: Identity = { ...identity, nextMutation: mutationId + 1, sequence, seen };
  // The number and the line that uses it up are one commit: a crash between the two would leave a gap for good.
  await context.store.commit([
    { put: 'entry', entry },
    { put: 'identity', identity: next },
  ]);
  return { mutationId, sequence, id };
}

/** Puts one mutation into the outbox. When it returns, the record is as safe as the store makes it. */
export function capture(context: ClientContext, intent: Intent): Promise<Captured> {
  return context.exclusive(() => write(context, intent));
}
