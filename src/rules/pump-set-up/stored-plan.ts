import { z } from 'zod';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { well } from '../../protocol/kinds/well.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { millionths } from '../../science/millionths.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { unanswered } from '../questions/answered.ts';
import { pumpSetUpPlan } from '../questions/pump-set-up-plan.ts';
import type { PlanInput } from './plan-input.ts';
import { NO_PLAN } from './plan-output.ts';
import { PLAN_SOURCES } from './plan-sources.ts';
import type { StoredPlanInput } from './stored-plan-input.ts';
import { driveOf, only, type RecordedUnit, unitsAtHand } from './units-of-records.ts';

const taken = z.strictObject({
  field: z.string().describe('Of the question that was answered'),
  figure: z.string(),
  kind: z.string().describe('Of the record'),
  record: id,
  at: instant.nullable().describe('When it was observed; null for the record of a well or unit'),
});

export const storedPlanOutput = pumpSetUpPlan.output.extend({
  taken: z.array(taken).describe('What was taken from records, as it was not given'),
});

export type StoredPlan = z.output<typeof storedPlanOutput>;
type Taken = z.output<typeof taken>;

/** What was observed at a well, the latest of its kind. */
export interface LatestObserved {
  readonly record: string;
  readonly kind: string;
  readonly at: string;
  readonly figure: string;
}

/** What is on record of a well and of what is at hand. */
export interface RecordsForPlan {
  readonly well: { readonly id: string; readonly fields: FieldsOf<typeof well> };
  /** Since when depths are measured from the point of today; null where there was never another. */
  readonly pointSinceMs: number | null;
  readonly level: LatestObserved | null;
  readonly bottom: LatestObserved | null;
  readonly intake: LatestObserved | null;
  readonly units: readonly RecordedUnit[];
}

const OF_WELL = ['stickUpFt', 'casingInsideDiameterIn', 'totalDepthFt', 'screenTopFt', 'screenBottomFt'] as const;

type OfVisits = 'staticDepthToWaterFt' | 'soundedDepthFt' | 'lastIntakeFt';

const WRITTEN: Readonly<Record<OfVisits, string>> = {
  staticDepthToWaterFt: 'The level',
  soundedDepthFt: 'The sounded bottom',
  lastIntakeFt: 'The intake of last time',
};

function observedOf({ level, bottom, intake }: RecordsForPlan): Readonly<Record<OfVisits, LatestObserved | null>> {
  return { staticDepthToWaterFt: level, soundedDepthFt: bottom, lastIntakeFt: intake };
}

/** Why a figure on record is no figure to plan by; null where it is one. */
function notUsable(field: OfVisits, { figure, at }: LatestObserved, records: RecordsForPlan): string | null {
  const { pointSinceMs, well: of } = records;
  const what = `${WRITTEN[field]} of ${figure} ft, of ${at},`;
  if (pointSinceMs !== null && instantMs(at) < pointSinceMs)
    return `${what} is below another measuring point than the one of today and was not taken: measure again.`;
  if (field === 'staticDepthToWaterFt' && millionths(figure) < 0 && of.fields.knownToFlow !== true)
    return `${what} is above the measuring point of a well that is not known to flow and was not taken: measure again.`;
  return null;
}

interface Found {
  readonly taken: readonly Taken[];
  readonly cautions: readonly string[];
}

function foundOfVisits(records: RecordsForPlan, asked: StoredPlanInput): Found {
  const taken: Taken[] = [];
  const cautions: string[] = [];
  for (const [field, latest] of Object.entries(observedOf(records)) as [OfVisits, LatestObserved | null][]) {
    if (latest === null || asked[field] !== undefined) continue;
    const because = notUsable(field, latest, records);
    if (because !== null) cautions.push(because);
    else taken.push({ field, ...latest });
  }
  return { taken, cautions };
}

function takenFrom(records: RecordsForPlan, asked: StoredPlanInput): Found {
  const { well: of } = records;
  const ofWell = OF_WELL.flatMap((field): Taken[] => {
    const figure = asked[field] === undefined ? of.fields[field] : undefined;
    return figure === undefined ? [] : [{ field, figure, kind: 'well', record: of.id, at: null }];
  });
  const { taken, cautions } = foundOfVisits(records, asked);
  return { taken: [...ofWell, ...taken], cautions };
}

interface Needed {
  readonly casingInsideDiameterIn?: string | undefined;
  readonly staticDepthToWaterFt?: string | undefined;
}

function needed({ casingInsideDiameterIn, staticDepthToWaterFt }: Needed): Refusal | null {
  if (casingInsideDiameterIn === undefined)
    return refuse('The record of the well has no casingInsideDiameterIn: record it, or give it.');
  if (staticDepthToWaterFt === undefined)
    return refuse('No measured level of the well is on record here: measure it, and give staticDepthToWaterFt.');
  return null;
}

/** The question of a set-up as the records complete it; what was given goes before what is on record. */
function completed(records: RecordsForPlan, asked: StoredPlanInput, found: readonly Taken[]): PlanInput | Refusal {
  const { units: _records, parts = [], ...given } = asked;
  const figures = Object.fromEntries(found.map(({ field, figure }) => [field, figure]));
  const whole = {
    depthsFrom: records.well.fields.depthsFrom,
    ...driveOf(records.units),
    ...only(given),
    ...figures,
    units: [...records.units.flatMap(unitsAtHand), ...parts],
  };
  return needed(whole) ?? (whole as PlanInput);
}

/** A level changes from day to day, and the mark that it is measured from may have been changed since. */
function cautions(found: readonly Taken[]): string[] {
  return found.flatMap(({ field, figure, at }) =>
    field === 'staticDepthToWaterFt'
      ? [`The level of ${figure} ft is of ${at}: measure it again before the pump goes in.`]
      : [],
  );
}

/**
 * The plan of a pump set-up for a well on record: what is not given is taken from the record of the well, the latest
 * level, sounding and intake, and the records of the units that are named. Says what was taken from where.
 */
export function storedPlan(records: RecordsForPlan, asked: StoredPlanInput): StoredPlan {
  const { taken, cautions: left } = takenFrom(records, asked);
  const question = completed(records, asked, taken);
  if (isRefusal(question)) {
    const refused = unanswered(question, PLAN_SOURCES);
    return { ...NO_PLAN, ...refused, cautions: [...left], taken: [...taken] };
  }
  const answer = pumpSetUpPlan.answer(question);
  return { ...answer, cautions: [...left, ...cautions(taken), ...answer.cautions], taken: [...taken] };
}
