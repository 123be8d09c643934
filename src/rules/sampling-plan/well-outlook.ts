import type { WellRecord } from '../samples/sample-records.ts';
import { rankWells, type WellRank } from '../well-order/well-rank.ts';
import type { WellToSample } from './plan-wells.ts';
import type { PlanningFacts } from './planning-facts.ts';

/** Whether a QC sample may be taken at a well, best first. */
export const SUITABILITIES = ['good', 'fair', 'poor', 'no'] as const;
export type Suitability = (typeof SUITABILITIES)[number];

export interface Suits {
  readonly suits: Suitability;
  /** In words, what speaks for it and against it. */
  readonly why: readonly string[];
}

/** What earlier rounds let one expect of a well. */
export interface WellOutlook {
  readonly well: string;
  readonly rank: WellRank | null;
  readonly likely: 'detections' | 'none' | 'unknown';
  readonly water: 'little' | 'enough' | 'unknown';
  readonly likelyWhy: string;
  readonly waterWhy: string;
  /** Its water ran short in this event, so that no more than its sample is asked of it; null where it did not. */
  readonly shortNow: string | null;
}

const SHORT_OF_WATER: readonly string[] = ['dry', 'purged-dry', 'insufficient-water'];

function water(well: WellRecord, facts: PlanningFacts): Pick<WellOutlook, 'water' | 'waterWhy'> {
  if (well.fields.knownToPurgeDry) return { water: 'little', waterWhy: 'the well is known to purge dry' };
  const earlier = (facts.summaries.get(well.id) ?? []).filter(({ method }) => method !== 'gauging');
  const short = earlier.find(({ wentDry, outcome }) => wentDry || SHORT_OF_WATER.includes(outcome ?? ''));
  if (short) {
    const how = short.outcome && short.outcome !== 'sampled' ? short.outcome : 'it gave no more water';
    return { water: 'little', waterWhy: `little water in ${short.eventName} (${how})` };
  }
  const [last] = earlier;
  if (!last) return { water: 'unknown', waterWhy: 'its yield is not known from earlier rounds' };
  const flow = last.flowMlPerMin ? ` (at ${last.flowMlPerMin} mL/min)` : '';
  return { water: 'enough', waterWhy: `it did not go dry in ${last.eventName}${flow}` };
}

function likely(rank: WellRank | undefined): Pick<WellOutlook, 'likely' | 'likelyWhy'> {
  if (!rank || rank.class === null) return { likely: 'unknown', likelyWhy: 'no result of an earlier round is known' };
  if (rank.times !== null && rank.times.over > 0n) {
    return { likely: 'detections', likelyWhy: `detections are likely (${rank.analyte ?? 'found'} last time)` };
  }
  if (rank.class === 'clean')
    return { likely: 'none', likelyWhy: 'nothing was detected last time: a pair without results' };
  return { likely: 'detections', likelyWhy: `detections are likely (the office classes the well as ${rank.class})` };
}

/** Of each well what earlier rounds let one expect there, and this one: results before the event, and how it yields. */
export function outlooks(facts: PlanningFacts, wells: readonly WellToSample[]): ReadonlyMap<string, WellOutlook> {
  const ranks = rankWells(
    wells.map(({ well: { id, fields } }) => ({
      well: id,
      assignedClass: fields.assignedClass ?? null,
      results: facts.lastResults.get(id) ?? [],
    })),
  );
  return new Map(
    wells.map(({ well, left }) => {
      const rank = ranks.get(well.id);
      const shortNow = left?.isShort ? `its water ran short in this event: ${left.said}` : null;
      const yields = shortNow === null ? water(well, facts) : ({ water: 'little', waterWhy: shortNow } as const);
      return [well.id, { well: well.id, rank: rank ?? null, ...likely(rank), ...yields, shortNow }];
    }),
  );
}

/**
 * A duplicate belongs where something is found, for a pair without detections says nothing of precision; and it takes
 * twice the water.
 *
 * Source: wells where something will likely be found, a sampling plan, county file, doc 453814, page 47; the water is
 * common practice, no source.
 */
export function suitsDuplicate({
  likely: found,
  likelyWhy,
  water: yields,
  waterWhy,
  rank,
  shortNow,
}: WellOutlook): Suits {
  if (shortNow !== null) return { suits: 'no', why: [`${shortNow}: a duplicate takes twice the water`] };
  const why = [likelyWhy, waterWhy];
  if (rank?.class === 'product') return { suits: 'poor', why: ['the well holds product', ...why] };
  if (yields === 'little' || found === 'none') return { suits: 'poor', why };
  return { suits: found === 'detections' ? 'good' : 'fair', why };
}

/**
 * A matrix spike with its duplicate takes three times the water, so it never goes to a well with little. In a well that is
 * high the spike is lost beside what is there already.
 *
 * Sources: three volumes, usual request of laboratories, from memory; the rest is common practice, no source.
 */
export function suitsSpike({ water: yields, waterWhy, rank }: WellOutlook): Suits {
  if (yields === 'little') return { suits: 'no', why: [`${waterWhy}: a spike takes up to three times the volume`] };
  if (rank?.class === 'product') return { suits: 'no', why: ['the well holds product: a spike is lost in it'] };
  if (rank?.class === 'high') return { suits: 'poor', why: [waterWhy, 'it is high: a spike may be lost beside it'] };
  return { suits: yields === 'enough' ? 'good' : 'fair', why: [waterWhy] };
}
