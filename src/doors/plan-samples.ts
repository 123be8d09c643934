import { v5 } from 'uuid';
import type { Context } from '../context.ts';
import { canonicalText } from '../protocol/content-hash.ts';
import type { Outcome } from '../protocol/mutation.ts';
import { Problem } from '../protocol/problem.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { mustSeeEvent, readSamplingFacts } from '../reads/sampling-plan.ts';
import type { Chance } from '../rules/sampling-plan/draw-number.ts';
import { inBatches, type PlanChange, planChanges } from '../rules/sampling-plan/plan-changes.ts';
import { type SamplingPlanTold, samplingPlanTold } from '../rules/sampling-plan/plan-told.ts';
import { type PlanProposal, proposePlan } from '../rules/sampling-plan/propose-plan.ts';
import { lastReceived, wasReceived } from '../store/read/receipt.ts';
import { whilePlanning } from '../store/write/planning-lock.ts';
import type { Actor, Batch } from '../writes/batch.ts';
import { oneShotClient } from './one-shot.ts';
import { inPlanningPlace } from './planning-places.ts';

/** Below the limit of a push and of what shares a transaction, so that phones get their turn between two batches. */
const BATCH = 400;
/** What somebody else changed meanwhile is planned for again; who changes it for ever is not waited for. */
const ROUNDS = 3;

export interface PlanWritten {
  /** Records that were added or changed under this key, now or before. */
  readonly written: number;
  /** The request was answered before, and nothing was left to do. */
  readonly repeated: boolean;
  readonly plan: SamplingPlanTold;
}

interface Writing {
  readonly ctx: Context;
  readonly actor: Actor;
  readonly event: string;
  /** What the token and the key name. */
  readonly named: string;
}

/** A request of its own has one batch: each batch of a plan is one, in the order in which they are written. */
function clientOf({ named, event }: Writing, place: number): string {
  return v5(`sampling plan ${event} ${place}`, named);
}

interface Before {
  readonly batches: number;
  readonly records: number;
}

/** What was written under this key before. */
async function writtenBefore(on: Writing): Promise<Before> {
  return on.ctx.records.read(on.actor.firm, async (tx) => {
    for (let [batches, records] = [0, 0]; ; batches += 1) {
      const its = await lastReceived(tx, clientOf(on, batches));
      if (its === 0) return { batches, records };
      records += its;
    }
  });
}

function batchOf({ actor }: Writing, client: string, changes: readonly PlanChange[]): Batch {
  const lines = changes.map((change, at) => {
    const bytes = Buffer.from(canonicalText({ ...change, mutationId: 1 + at }));
    return { bytes, text: bytes.toString('utf8') };
  });
  const nothing = { sent: null, roundTripMs: 0, unsent: null, oneShot: true, carried: false } as const;
  return { actor, client, first: 1, lines, schemaVersion: SCHEMA_VERSION, ...nothing };
}

/** @throws Problem where a batch was not applied as a whole: what was before it is stored, and is not planned twice */
async function write(on: Writing, from: number, changes: readonly (readonly PlanChange[])[]): Promise<number> {
  let place = from;
  for (const batch of inBatches(changes, BATCH)) {
    const answer = await on.ctx.lane(batchOf(on, clientOf(on, place), batch));
    if (answer.status !== 'answered')
      throw new Problem(
        'busy',
        `a batch of the plan was answered ${answer.status}: the same request goes on where it is`,
      );
    const bad = answer.outcomes.map((text) => JSON.parse(text) as Outcome).find(({ outcome }) => !isTaken(outcome));
    if (bad)
      throw new Problem(
        'database_refused',
        `${bad.kind ?? 'a record'} ${bad.id} of the plan was answered ${bad.outcome} (${bad.code ?? ''}: ${bad.detail ?? ''}); what was planned before it is stored`,
      );
    place += 1;
  }
  return place;
}

function isTaken(outcome: Outcome['outcome']): boolean {
  return outcome === 'applied' || outcome === 'merged' || outcome === 'conflict_kept';
}

function mustBePlannable({ problems }: PlanProposal): void {
  if (problems.length === 0) return;
  throw new Problem('unreadable_record', `the samples cannot be planned. ${problems.join(' ')}`, { problems });
}

async function planNow(on: Writing, chance: Chance): Promise<PlanWritten> {
  const before = await writtenBefore(on);
  let [changed, place] = [0, before.batches];
  for (let round = 1; ; round += 1) {
    const facts = await readSamplingFacts(on.ctx, on.actor, on.event);
    const proposal = proposePlan(facts);
    mustBePlannable(proposal);
    const changes = planChanges(proposal, facts, chance);
    if (changes.length === 0 || round > ROUNDS) {
      const plan = samplingPlanTold(proposal, facts);
      return { written: before.records + changed, repeated: before.batches > 0 && changed === 0, plan };
    }
    place = await write(on, place, changes);
    changed += changes.flat().length;
  }
}

/**
 * Writes what the plan of an event asks for as records, through the write door, in batches. The same request again, also
 * after it was cut short, goes on where it is: ids come from what is planned, so that nothing is planned twice.
 *
 * @param key the Idempotency-Key, or the id of the request where none was given
 * @param chance what numbers are drawn by
 * @throws Problem `record_missing` for an event that is not there or that the actor does not see, `unreadable_record`
 *   naming suites that are not there, `busy` while another one plans the event, or too many plan
 */
export async function planSamples(
  ctx: Context,
  actor: Actor,
  key: string,
  event: string,
  chance: Chance,
): Promise<PlanWritten> {
  await mustSeeEvent(ctx, actor, event);
  return inPlanningPlace(ctx.pool, actor.firm, async () => {
    const other = oneShotClient(actor, key);
    if (await ctx.records.read(actor.firm, (tx) => wasReceived(tx, other, 1))) {
      const detail = `the key ${JSON.stringify(key.slice(0, 80))} was used for another content before`;
      throw new Problem('key_reused', detail);
    }
    const on = { ctx, actor, event, named: other };
    const done = await whilePlanning(ctx.pool, { firm: actor.firm, event }, () => planNow(on, chance));
    if (done === null) throw new Problem('busy', 'somebody plans the samples of this event just now: ask again');
    return done;
  });
}
