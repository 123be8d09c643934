import { z } from 'zod';
import { UNIT_STATES } from '../../protocol/kinds/unit-state.ts';
import { WELL_CLASSES } from '../../protocol/kinds/well.ts';
import { date, id } from '../../protocol/primitives.ts';
import type { BlankStanding } from '../equipment/blank-standing.ts';
import { isDownholePump, isDry } from '../equipment/unit-kind.ts';
import { dayPlan, type UnitForDay, type WellForDay } from '../well-order/day-plan.ts';
import { orderDeviations } from '../well-order/order-wells.ts';
import type { WellLevel } from '../well-order/well-level.ts';
import { rankWells, type WellRank } from '../well-order/well-rank.ts';
import { recordId } from './told-fields.ts';

export const dayPlanInput = z.strictObject({
  day: date.optional().describe('By the calendar of the site. Default: today there'),
  crew: id.optional().describe('Default: that of the device that asks'),
});
export type DayPlanGiven = z.output<typeof dayPlanInput>;

const deviation = z.strictObject({
  well: recordId('well'),
  after: recordId('well').describe('The dirtiest of those before it'),
  shared: z.array(id).describe('Units that went down both'),
  by: z.enum(['results', 'class', 'not-known']),
  sentence: z.string(),
});

export const dayPlanOutput = z.strictObject({
  event: recordId('event'),
  crew: recordId('crew'),
  day: date,
  timeZone: z.string(),
  wells: z
    .array(
      z.strictObject({
        well: recordId('well'),
        name: z.string(),
        class: z
          .enum(WELL_CLASSES)
          .nullable()
          .describe('Of its last results or of the office; null where nothing is known'),
        isAssigned: z.boolean().describe('The class is that of the office, or at least as bad'),
        analyte: z.string().nullable().describe('By which its last results are the worst'),
        units: z.array(id),
      }),
    )
    .describe('Still to be done, from the least to the most contaminated'),
  steps: z
    .array(
      z.strictObject({
        step: z.enum(['decon', 'well', 'rinsate']),
        well: recordId('well').nullable(),
        unit: recordId('unit').nullable(),
        name: z.string().describe('Of the well or the unit'),
        why: z.string().nullable(),
      }),
    )
    .describe('The day in its order: wells, with the decons before, between and after them'),
  units: z.array(z.strictObject({ unit: recordId('unit'), label: z.string(), state: z.enum(UNIT_STATES) })),
  done: z
    .array(z.strictObject({ well: recordId('well'), name: z.string(), visit: recordId('visit') }))
    .describe('Where the crew was or is, without those to which it has to come back'),
  deviations: z
    .array(deviation)
    .describe('So far: a cleaner well after a dirtier one with the same gear. Nobody is kept from it'),
  problems: z.array(z.string()).describe('What speaks against the plan'),
  notes: z.array(z.string()),
});
export type DayPlanTold = z.output<typeof dayPlanOutput>;

type UnitLike = NonNullable<Parameters<typeof isDownholePump>[0]>;

export interface CarriedForDay {
  readonly id: string;
  readonly fields: UnitLike['fields'];
  readonly state: UnitForDay['state'];
}

export interface PlannedWell {
  readonly well: string;
  readonly name: string;
  readonly dedicated: readonly string[];
  readonly claimed: string | null;
  /** False for one of the site that no crew was assigned to. */
  readonly isNamed: boolean;
}

export interface CameTo {
  readonly visit: string;
  readonly well: string;
  readonly name: string;
  readonly arrived: Date;
  readonly units: readonly string[];
}

export interface BlankThrough {
  readonly unit: string;
  readonly collected: Date;
  readonly standing: BlankStanding;
}

export interface CrewDay {
  readonly event: string;
  readonly crew: string;
  readonly day: string;
  readonly timeZone: string;
  /** Still to be done. */
  readonly wells: readonly PlannedWell[];
  /** In the order in which the crew came there. */
  readonly visited: readonly CameTo[];
  /** Taken through what went down these wells, in any order. */
  readonly blanks: readonly BlankThrough[];
  /** What the crew has, and whatever else is named. */
  readonly units: readonly CarriedForDay[];
  /** The ids of those that the crew has. */
  readonly carried: ReadonlySet<string>;
  readonly levels: readonly WellLevel[];
  readonly plan: {
    readonly rinsatePer?: 'unit-and-day' | null | undefined;
    readonly dirtierFactor?: string | null | undefined;
  };
}

function asRecord({ id: unit, fields }: CarriedForDay): UnitLike {
  return { id: unit, kind: 'unit', rev: 1, voided: null, client: null, clock: null, fields };
}

const isPump = (unit: CarriedForDay) => isDownholePump(asRecord(unit));

function forDay(unit: CarriedForDay): UnitForDay {
  const record = asRecord(unit);
  const { label, use } = unit.fields;
  const kind = { isWet: !isDry(record), isShared: use === 'shared', isDownholePump: isDownholePump(record) };
  return { id: unit.id, label, state: unit.state, ...kind };
}

/** The pump of a well that has none of its own: as it was claimed, else the first that the crew has. */
function pumpsFor({ claimed }: PlannedWell, pumps: readonly CarriedForDay[]): readonly string[] {
  const chosen = claimed ?? pumps[0]?.id;
  return chosen === undefined ? [] : [chosen];
}

/** Gear of its own stays in its well; tapes and meters go to every well, and what is shared down one is looked at. */
function wellForDay(well: PlannedWell, given: CrewDay): WellForDay {
  const own = given.units.filter(({ id: unit }) => well.dedicated.includes(unit));
  const shared = given.units.filter(({ id: unit, fields }) => given.carried.has(unit) && fields.use === 'shared');
  const pumps = own.some(isPump) ? [] : pumpsFor(well, shared.filter(isPump));
  const others = shared.filter((unit) => !isPump(unit)).map(({ id: unit }) => unit);
  const units = [...own.map(({ id: unit }) => unit), ...pumps, ...others];
  return { well: well.well, name: well.name, units: [...new Set(units)], sharedDownhole: pumps };
}

type RankOf = (well: string) => WellRank | undefined;

function namesOf({ wells, visited, units }: CrewDay): (one: string) => string {
  const names = new Map([
    ...[...wells, ...visited].map(({ well, name }) => [well, name] as const),
    ...units.map(({ id: unit, fields }) => [unit, fields.label] as const),
  ]);
  return (one) => names.get(one) ?? one;
}

/** A blank that passed shows that nothing came along; one that waits for its result is what is asked for here. */
function isBlankBetween(blanks: readonly BlankThrough[], unit: string, before: Date, after: Date): boolean {
  return blanks.some(
    ({ unit: of, collected, standing }) =>
      of === unit && collected >= before && collected <= after && (standing === 'clean' || standing === 'no-result'),
  );
}

function deviationsSoFar(given: CrewDay, rankOf: RankOf, named: (one: string) => string): DayPlanTold['deviations'] {
  const shared = new Set(given.units.filter(({ fields }) => fields.use === 'shared').map(({ id: unit }) => unit));
  const came = given.visited.map(({ well, arrived, units }) => {
    return { well, arrived, sharedDownhole: units.filter((unit) => shared.has(unit)) };
  });
  const factor = given.plan.dirtierFactor ?? undefined;
  return orderDeviations(came, rankOf, named, factor, (unit, before, after) =>
    isBlankBetween(given.blanks, unit, before.arrived, after.arrived),
  ).map((one) => ({ ...one, shared: [...one.shared] }));
}

function notesOf(given: CrewDay): string[] {
  const pumps = given.units.filter(
    (unit) => given.carried.has(unit.id) && unit.fields.use === 'shared' && isPump(unit),
  );
  return [
    ...(pumps.length > 1
      ? [
          `The crew has ${pumps.length} shared pumps: wells that it did not claim with another are planned with ${pumps[0]?.fields.label}.`,
        ]
      : []),
    ...(given.wells.some(({ isNamed }) => !isNamed)
      ? ['No assignment of this crew names a well: the wells of the site that no other crew has are planned.']
      : []),
    ...(given.wells.length === 0 && given.visited.length === 0 ? ['No well is assigned to this crew.'] : []),
  ];
}

/** The day of a crew: what is left of it in its order, and where it went from dirty to clean so far. */
export function dayPlanTold(given: CrewDay): DayPlanTold {
  const ranks = rankWells(given.levels);
  const rankOf: RankOf = (well) => ranks.get(well);
  const named = namesOf(given);
  const wells = given.wells.map((well) => wellForDay(well, given));
  const needed = new Set(wells.flatMap(({ units }) => units));
  const units = given.units.filter(({ id: unit }) => needed.has(unit)).map(forDay);
  const plan = dayPlan({ crew: given.crew, wells, units, rankOf, ...given.plan });
  const unitsOf = new Map(wells.map((one) => [one.well, one.units]));
  return {
    event: given.event,
    crew: given.crew,
    day: given.day,
    timeZone: given.timeZone,
    wells: plan.order.map((well) => {
      const rank = rankOf(well);
      const told = {
        class: rank?.class ?? null,
        isAssigned: rank?.isAssigned ?? false,
        analyte: rank?.analyte ?? null,
      };
      return { well, name: named(well), ...told, units: [...(unitsOf.get(well) ?? [])] };
    }),
    steps: plan.steps.map((one) =>
      one.step === 'well'
        ? { step: one.step, well: one.well, unit: null, name: named(one.well), why: null }
        : { step: one.step, well: null, unit: one.unit, name: named(one.unit), why: one.why },
    ),
    units: given.units
      .filter(({ id: unit }) => given.carried.has(unit))
      .map(({ id: unit, fields, state }) => ({ unit, label: fields.label, state })),
    done: given.visited
      .filter(({ well }) => !unitsOf.has(well))
      .map(({ well, name, visit }) => ({ well, name, visit })),
    deviations: deviationsSoFar(given, rankOf, named),
    problems: [...plan.problems],
    notes: notesOf(given),
  };
}
