import { z } from 'zod';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { well } from '../../protocol/kinds/well.ts';
import { id, instant } from '../../protocol/primitives.ts';
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
  readonly level: LatestObserved | null;
  readonly bottom: LatestObserved | null;
  readonly intake: LatestObserved | null;
  readonly units: readonly RecordedUnit[];
}

const OF_WELL = ['stickUpFt', 'casingInsideDiameterIn', 'totalDepthFt', 'screenTopFt', 'screenBottomFt'] as const;

function takenFrom(records: RecordsForPlan, asked: StoredPlanInput): Taken[] {
  const { well: of, level, bottom, intake } = records;
  const ofWell = OF_WELL.flatMap((field): Taken[] => {
    const figure = asked[field] === undefined ? of.fields[field] : undefined;
    return figure === undefined ? [] : [{ field, figure, kind: 'well', record: of.id, at: null }];
  });
  const observed = { staticDepthToWaterFt: level, soundedDepthFt: bottom, lastIntakeFt: intake } as const;
  const ofVisits = Object.entries(observed).flatMap(([field, latest]): Taken[] => {
    if (latest === null || asked[field as keyof typeof observed] !== undefined) return [];
    const { figure, kind, record, at } = latest;
    return [{ field, figure, kind, record, at }];
  });
  return [...ofWell, ...ofVisits];
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
  const found = takenFrom(records, asked);
  const question = completed(records, asked, found);
  if (isRefusal(question)) return { ...NO_PLAN, ...unanswered(question, PLAN_SOURCES), taken: found };
  const answer = pumpSetUpPlan.answer(question);
  return { ...answer, cautions: [...cautions(found), ...answer.cautions], taken: found };
}
