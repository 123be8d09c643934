import { type OwedQcGiven, type OwedQcTold, owedQcTold } from '../rules/sampling-plan/owed-qc-told.ts';
import { type SamplingPlanTold, samplingPlanTold } from '../rules/sampling-plan/plan-told.ts';
import type { PlanningFacts } from '../rules/sampling-plan/planning-facts.ts';
import { proposePlan } from '../rules/sampling-plan/propose-plan.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { dayAtSite } from './day-at-site.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { samplingFacts } from './sampling-facts.ts';

type Pooled = Pick<ReadContext, 'pool'>;

/**
 * What the plan of an event asks of its samples, beside what is there.
 *
 * @throws Problem `record_missing`
 */
export async function samplingPlan(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
): Promise<SamplingPlanTold> {
  const facts = await samplingFacts(tx, feeds, event);
  return samplingPlanTold(proposePlan(facts), facts);
}

/**
 * What QC an event still owes, and which wells suit.
 *
 * @throws Problem `record_missing` for an event, well or crew that is not there or that the reader does not see
 */
export async function owedQc(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  asked: OwedQcGiven & { readonly now: string },
): Promise<OwedQcTold> {
  const facts = await samplingFacts(tx, feeds, event);
  const { now, ...given } = asked;
  if (given.well !== undefined) await inSight(tx, feeds, 'well', given.well);
  if (given.crew !== undefined) await inSight(tx, null, 'crew', given.crew);
  const { day } = await dayAtSite(tx, facts.samples.event.fields.site, { day: given.day, now });
  return owedQcTold(facts, { ...given, day });
}

export function readSamplingPlan({ pool }: Pooled, reader: Reader, event: string): Promise<SamplingPlanTold> {
  return inRead(pool, reader.firm, async (tx) => samplingPlan(tx, await feedsInSight(tx, reader), event));
}

export function readSamplingFacts({ pool }: Pooled, reader: Reader, event: string): Promise<PlanningFacts> {
  return inRead(pool, reader.firm, async (tx) => samplingFacts(tx, await feedsInSight(tx, reader), event));
}

export function readOwedQc(
  { pool }: Pooled,
  reader: Reader,
  event: string,
  given: OwedQcGiven & { readonly now: string },
): Promise<OwedQcTold> {
  return inRead(pool, reader.firm, async (tx) => owedQc(tx, await feedsInSight(tx, reader), event, given));
}

/** @throws Problem `record_missing` for an event that is not there or that the reader does not see */
export function mustSeeEvent({ pool }: Pooled, reader: Reader, event: string): Promise<void> {
  return inRead(pool, reader.firm, async (tx) => {
    await inSight(tx, await feedsInSight(tx, reader), 'event', event);
  });
}
