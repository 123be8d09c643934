import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import { type OrderDeviation, orderDeviations, orderWells, type RankOf, type WellToDo } from './order-wells.ts';
import { compareRanks } from './well-rank.ts';

/** A unit that the crew takes along. */
export interface UnitForDay {
  readonly id: string;
  readonly label: string;
  /** Its state when the day begins. */
  readonly state: UnitStateName;
  /** Whether it touches the water: what stays dry is never cleaned. */
  readonly isWet: boolean;
  readonly isShared: boolean;
  /** Whether an equipment blank is taken through it. */
  readonly isDownholePump: boolean;
}

export interface WellForDay extends WellToDo {
  readonly name: string;
  /** Ids of every unit that is needed there. */
  readonly units: readonly string[];
  /** Keys, gates, notices, the level round before: what the well needs first, in words. */
  readonly needsFirst?: readonly string[];
}

export interface DayPlanInput {
  readonly crew: string;
  /** In the order in which the crew would go by itself. */
  readonly wells: readonly WellForDay[];
  readonly units: readonly UnitForDay[];
  readonly rankOf: RankOf;
  readonly rinsatePer?: 'unit-and-day' | null | undefined;
  readonly dirtierFactor?: string | null | undefined;
  /** True: the order given stands, and what deviates is listed. */
  readonly keepsOrder?: boolean;
}

export type DayStep =
  | { readonly step: 'decon'; readonly unit: string; readonly why: string }
  | {
      readonly step: 'well';
      readonly well: string;
      readonly units: readonly string[];
      readonly needsFirst: readonly string[];
    }
  | { readonly step: 'rinsate'; readonly unit: string; readonly why: string };

export interface DayPlan {
  readonly crew: string;
  readonly order: readonly string[];
  readonly steps: readonly DayStep[];
  readonly deviations: readonly OrderDeviation[];
  /** What speaks against the plan: a unit out of service, a unit that is not known. */
  readonly problems: readonly string[];
}

/** Where each unit is used, by the places of the order. */
function placesOf(unit: string, order: readonly WellForDay[]): readonly number[] {
  return order.flatMap(({ units }, at) => (units.includes(unit) ? [at] : []));
}

/** After its dirtiest well a blank says most: there it is seen whether the decon is good enough. */
function rinsateAfter(unit: string, order: readonly WellForDay[], rankOf: RankOf): number | undefined {
  return placesOf(unit, order).reduce<number | undefined>((worst, at) => {
    const [a, b] = [worst === undefined ? undefined : order[worst], order[at]].map((one) => one && rankOf(one.well));
    if (worst === undefined) return at;
    return a && b && compareRanks(a, b) > 0 ? worst : at;
  }, undefined);
}

function before(unit: UnitForDay, at: number, order: readonly WellForDay[]): readonly DayStep[] {
  const [first] = placesOf(unit.id, order);
  if (at !== first || !unit.isWet || unit.state === 'clean') return [];
  return [{ step: 'decon', unit: unit.id, why: `${unit.label} is not clean by its records: before its first well.` }];
}

function after(unit: UnitForDay, at: number, order: readonly WellForDay[], input: DayPlanInput): readonly DayStep[] {
  if (!unit.isWet || !unit.isShared || !placesOf(unit.id, order).includes(at)) return [];
  const next = order[placesOf(unit.id, order).find((place) => place > at) ?? -1];
  const name = order[at]?.name ?? '';
  const why = next ? `After ${name}, before ${next.name}.` : `After ${name}, before it is put away.`;
  const isSame = next !== undefined && next.well === order[at]?.well;
  const owed = input.rinsatePer === 'unit-and-day' && unit.isDownholePump;
  const isRinsed = owed && rinsateAfter(unit.id, order, input.rankOf) === at;
  return [
    ...(isSame ? [] : [{ step: 'decon' as const, unit: unit.id, why }]),
    ...(isRinsed
      ? [
          {
            step: 'rinsate' as const,
            unit: unit.id,
            why: `One a day through ${unit.label}: after ${name}, its dirtiest well of the day.`,
          },
        ]
      : []),
  ];
}

function problemsOf({ wells, units }: DayPlanInput): readonly string[] {
  const known = new Map(units.map((unit) => [unit.id, unit]));
  const needed = [...new Set(wells.flatMap((well) => well.units))];
  return needed.flatMap((id) => {
    const unit = known.get(id);
    if (!unit) return [`${id} is needed and is not among the units of the crew: take it along, or another.`];
    if (unit.state === 'out-of-service') return [`${unit.label} is out of service: take another.`];
    return unit.state === 'in-a-well' ? [`${unit.label} is in a well now: it must come out and be cleaned first.`] : [];
  });
}

/**
 * The day of a crew: its wells from the least to the most contaminated, the units for each, the decons that fall due
 * before, between and after them, and the rinsates that the plan asks for.
 *
 * Sources: the order as of `orderWells`; decons, US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13; that what
 * the last well had decides how much a blank is worth, US Army CRREL, Special Report 97-24.
 */
export function dayPlan(input: DayPlanInput): DayPlan {
  const order = input.keepsOrder ? input.wells : orderWells(input.wells, input.rankOf);
  const names = new Map([
    ...input.wells.map(({ well, name }) => [well, name] as const),
    ...input.units.map(({ id, label }) => [id, label] as const),
  ]);
  const named = (id: string) => names.get(id) ?? id;
  return {
    crew: input.crew,
    order: order.map(({ well }) => well),
    steps: order.flatMap(({ well, units, needsFirst = [] }, at): readonly DayStep[] => [
      ...input.units.flatMap((unit) => before(unit, at, order)),
      { step: 'well', well, units, needsFirst },
      ...input.units.flatMap((unit) => after(unit, at, order, input)),
    ]),
    deviations: orderDeviations(order, input.rankOf, named, input.dirtierFactor ?? undefined),
    problems: problemsOf(input),
  };
}
