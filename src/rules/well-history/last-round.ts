import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { placeInTime } from '../assessment/timeline.ts';
import { callsInOrder, purgedDry } from '../flags/facts/calls.ts';
import { intakeAt, setUpAt } from '../flags/facts/intake.ts';
import { measuredLevels } from '../flags/facts/measured-levels.ts';
import { inObservedOrder } from '../flags/facts/observed-order.ts';
import { liveBundle } from '../flags/live-bundle.ts';
import type { PurgeBundle, VisitBundle } from '../visit-bundle.ts';
import { LAST_VALUES, type LastRoundSummary } from './last-round-summary.ts';

const MS_PER_MIN = 60_000;

/** The purge that the summary is of: the one that began last. Voided ones do not count. */
export function lastPurge(bundle: VisitBundle): PurgeBundle | undefined {
  const began = ({ purge }: PurgeBundle) => instantMs(purge.fields.began);
  return liveBundle(bundle)
    .purges.toSorted((a, b) => began(a) - began(b) || (a.purge.id < b.purge.id ? -1 : 1))
    .at(-1);
}

/** Whole minutes; nothing where a clock went backwards. */
function minutesBetween(from: string, to: string | undefined): string | undefined {
  if (to === undefined) return undefined;
  const minutes = Math.round((instantMs(to) - instantMs(from)) / MS_PER_MIN);
  return minutes < 0 ? undefined : String(minutes);
}

type Reading = PurgeBundle['readings'][number];

/** The last figure of a field that was measured: one at the end of the range of its meter is none. */
function lastValue(readings: readonly Reading[], field: (typeof LAST_VALUES)[number] | 'purgedMl') {
  return readings.findLast(({ fields }) => fields[field] !== undefined && fields.overRange?.includes(field) !== true)
    ?.fields[field];
}

/** The last flow of the purge, read or set. */
function lastFlow({ readings, occurrences }: PurgeBundle): string | undefined {
  return placeInTime([...readings, ...occurrences])
    .map(({ record }) => record.fields)
    .findLast((fields) => {
      const over = 'overRange' in fields && fields.overRange?.includes('flowMlPerMin') === true;
      return fields.flowMlPerMin !== undefined && !over;
    })?.flowMlPerMin;
}

/** What an assessment made of flows and times is no better than a millilitre. */
function wholeMl(computed: string | null | undefined): string | undefined {
  return computed == null ? undefined : placesText(Number(computed), 0);
}

/** All that was drawn; where the drawdown was not within its limit, a minimum purge counts only since the level steadied. */
function drawnMl(assessment: AssessmentFields | undefined): string | null | undefined {
  if (assessment === undefined) return undefined;
  const { volumes, drawdown, minimumPurge } = assessment.conditions;
  const counted = drawdown.status === 'within' || drawdown.status === 'steady';
  return volumes?.purgedMl ?? (counted ? minimumPurge.purgedMl : undefined);
}

function ofPurge(run: PurgeBundle, assessment: AssessmentFields | undefined): Partial<LastRoundSummary> {
  const readings = placeInTime(run.readings).map(({ record }) => record);
  const { began, ended } = run.purge.fields;
  return {
    flowMlPerMin: lastFlow(run),
    purgedMl: lastValue(readings, 'purgedMl') ?? wholeMl(drawnMl(assessment)),
    purgeMin: minutesBetween(began, ended ?? readings.at(-1)?.fields.observed.at),
    criteria: assessment?.criteria.id,
    criteriaEdition: assessment?.criteria.edition ?? undefined,
    stable: assessment?.stable,
    minutesToStableMin: minutesBetween(began, assessment?.firstHeldAt),
    ...Object.fromEntries(LAST_VALUES.map((field) => [field, lastValue(readings, field)])),
  };
}

function ofSetUp(bundle: VisitBundle): Partial<LastRoundSummary> {
  const setUp = setUpAt(bundle, Number.POSITIVE_INFINITY);
  if (setUp === undefined) return {};
  const { pump, tubingInsideDiameterIn, tubingLengthFt, drivePressurePsi, refillS, dischargeS } = setUp.fields;
  return {
    pump,
    pumpType: bundle.units.get(pump)?.fields.type,
    intakeDepthFt: intakeAt(bundle, Number.POSITIVE_INFINITY)?.depthFt,
    tubingInsideDiameterIn,
    tubingLengthFt,
    drivePressurePsi,
    refillS,
    dischargeS,
  };
}

function ofWater(bundle: VisitBundle): Partial<LastRoundSummary> {
  const measured = (purpose: string) =>
    inObservedOrder(bundle.levels).findLast(
      ({ fields }) => fields.purpose === purpose && fields.state === 'measured' && fields.depthToWaterFt !== undefined,
    )?.fields;
  const before = measured('before-purge') ?? measured('synoptic');
  const [lowest] = measuredLevels(bundle)
    .filter((level) => level.pumping)
    .toSorted((a, b) => b.millionthsFt - a.millionthsFt);
  const sounded = inObservedOrder(bundle.soundings).at(-1)?.fields;
  return {
    measuringPoint: before?.measuringPoint,
    depthToWaterFt: before?.depthToWaterFt,
    lowestDepthToWaterFt: lowest?.depthFt,
    depthToBottomFt: sounded?.depthToBottomFt,
    bottomMeasuringPoint: sounded?.measuringPoint,
  };
}

function known(summary: LastRoundSummary): LastRoundSummary {
  return Object.fromEntries(
    Object.entries(summary).filter(([, value]) => value !== undefined),
  ) as unknown as LastRoundSummary;
}

/**
 * What the next crew should know of this visit, from its records alone: the same records in any order give the same
 * summary, and what was not recorded is left out.
 *
 * @param assessment of `lastPurge`; one of another purge is not used
 * @returns null of a voided visit
 */
export function lastRound(bundle: VisitBundle, assessment: AssessmentFields | undefined): LastRoundSummary | null {
  if (bundle.visit.voided !== null) return null;
  const live = liveBundle(bundle);
  const run = lastPurge(bundle);
  const { event, visit } = bundle;
  return known({
    event: event.id,
    eventName: event.fields.name,
    visit: visit.id,
    arrived: visit.fields.arrived,
    method: visit.fields.method,
    outcome: visit.fields.outcome,
    wentDry: purgedDry(live),
    call: callsInOrder(live).at(-1)?.fields.decision,
    ...ofWater(live),
    ...ofSetUp(live),
    ...(run === undefined ? {} : ofPurge(run, assessment?.purge === run.purge.id ? assessment : undefined)),
  });
}
