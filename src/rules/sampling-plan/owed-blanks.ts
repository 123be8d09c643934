import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { isOfTrip, suitesWith, tripSuites } from './blanks.ts';
import { dayAtSite, type PlanningWells } from './planning-wells.ts';

/** What is asked for by what was done so far, what of it is done, and what is missing in words. */
export interface OwedCount {
  readonly asked: number;
  readonly done: number;
  readonly missing: readonly string[];
}

function owed(wanted: readonly (readonly [string, boolean])[]): OwedCount {
  const missing = wanted
    .filter(([, isDone]) => !isDone)
    .map(([said]) => said)
    .toSorted();
  return { asked: wanted.length, done: wanted.length - missing.length, missing };
}

/** A rinsate through each pump on each day of its use. */
export function owedEquipmentBlanks(on: PlanningWells): OwedCount {
  const { facts } = on;
  if (facts.samples.event.fields.plan.equipment?.rinsatePer !== 'unit-and-day') return owed([]);
  const done = new Set(
    facts.samples.blanks
      .filter(({ fields }) => fields.type === 'equipment')
      .map(({ fields }) => `${fields.unit} ${dayAtSite(on, fields.collected)}`),
  );
  const days = new Map(facts.pumpDays.map((one) => [`${one.unit} ${one.day}`, one]));
  return owed([...days].map(([key, { label, day }]) => [`through ${label}, used on ${day}`, done.has(key)] as const));
}

/** By the plan, else each day with volatiles, and one an event for PFAS; by the days on which samples were taken. */
export function owedFieldBlanks(on: PlanningWells): OwedCount {
  const per = on.plan?.fieldBlanksPer;
  const { samples, blanks } = on.facts.samples;
  const suites = [...new Set(samples.flatMap(({ fields }) => fields.suites))];
  const [volatile, pfas] = [suitesWith(on, suites, ['volatiles']), suitesWith(on, suites, ['pfas'])];
  const taken = blanks.filter(({ fields }) => fields.type === 'field');
  const asked = [...volatile, ...pfas];
  const all = asked.length > 0 ? [...new Set(asked)] : suites;
  const dayOfOne = ({ fields }: { readonly fields: { readonly collected: string } }) => dayAtSite(on, fields.collected);
  const days = [...new Set(samples.map(dayOfOne))].toSorted();
  /** What of the names was taken in samples and in no blank; with none of them taken nothing is asked for. */
  const asking = (names: readonly string[], day: string | null, when: string) => {
    const has = (list: typeof samples | typeof taken) => {
      const its = list.filter((one) => day === null || dayOfOne(one) === day).flatMap(({ fields }) => fields.suites);
      return names.filter((name) => its.includes(name));
    };
    const [inSamples, inBlanks] = [has(samples), new Set(has(taken))];
    const missing = inSamples.filter((name) => !inBlanks.has(name));
    if (inSamples.length === 0) return [];
    return [[`${when}, for ${missing.join(', ')}`, missing.length === 0] as const];
  };
  const each = (names: readonly string[]) => days.flatMap((day) => asking(names, day, `on ${day}`));
  const once = (names: readonly string[]) => asking(names, null, 'of the event');
  if (per === 'none') return owed([]);
  if (per === 'day') return owed(each(all));
  if (per === 'event') return owed(once(all));
  return owed([...each(volatile), ...once(pfas)]);
}

function inCoolers(on: PlanningWells, type: 'trip' | 'temperature'): ReadonlySet<string> {
  const { blanks, containers } = on.facts.samples;
  const its = new Set(blanks.filter(({ fields }) => fields.type === type).map(({ id }) => id));
  const planned = (id: string | undefined) => on.standing.planned.get(id ?? '')?.fields.type === `${type}-blank`;
  return new Set(
    containers.flatMap(({ fields }) =>
      fields.cooler !== undefined && (its.has(fields.blank ?? '') || planned(fields.planned)) ? fields.cooler : [],
    ),
  );
}

/** One in each cooler that holds what a trip blank goes along with. */
export function owedTripBlanks(on: PlanningWells): OwedCount {
  const { coolers, containers } = on.facts.samples;
  const suites = tripSuites(on, [...on.book.suites.keys()]);
  const needs = new Set(
    containers.flatMap(({ fields: { cooler, group, suite = null } }) => {
      const fillClass = analyteGroup(group)?.filling.fillClass ?? null;
      return cooler !== undefined && isOfTrip({ fillClass, suite }, suites) ? cooler : [];
    }),
  );
  const done = inCoolers(on, 'trip');
  return owed(
    coolers
      .filter(({ id }) => needs.has(id))
      .map(({ id, fields }) => [`in cooler ${fields.number}`, done.has(id)] as const),
  );
}

export function owedTemperatureBlanks(on: PlanningWells): OwedCount {
  if (on.plan?.temperatureBlankPerCooler === false) return owed([]);
  const done = inCoolers(on, 'temperature');
  const { coolers } = on.facts.samples;
  return owed(coolers.map(({ id, fields }) => [`in cooler ${fields.number}`, done.has(id)] as const));
}

/** Of each sample of a well that is split, where the sample itself is taken. */
export function owedSplits({ facts, wells }: PlanningWells): OwedCount {
  const { samples, visits } = facts.samples;
  const wellOf = new Map(visits.map(({ id, fields }) => [id, fields.well]));
  const taken = (well: string, isSplit: boolean) =>
    samples.some(({ fields }) => wellOf.get(fields.visit) === well && (fields.type === 'split') === isSplit);
  return owed(
    wells
      .filter(({ splitWith, well }) => splitWith !== null && taken(well.id, false))
      .map(({ well }) => [`of well ${well.fields.name}`, taken(well.id, true)] as const),
  );
}
