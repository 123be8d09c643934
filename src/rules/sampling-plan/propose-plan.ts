import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { adoptBlanks } from './adopted-blanks.ts';
import type { AdoptedSample } from './adopted-samples.ts';
import {
  blanksOfType,
  equipmentBlanks,
  fieldBlanks,
  isOfTrip,
  temperatureBlanks,
  tripBlanks,
  tripSuites,
  type WantedBlank,
} from './blanks.ts';
import { eventStanding } from './event-standing.ts';
import { type ExpectedCoolers, expectedCoolers, type LaboratoryLoad } from './expected-coolers.ts';
import { normalSamples } from './normal-samples.ts';
import { PlanIds } from './plan-ids.ts';
import { type WellsOfPlan, wellsOfPlan } from './plan-wells.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { PlanningWells } from './planning-wells.ts';
import type { PlannedType, ProposedContainer, ProposedSample } from './proposed.ts';
import { duplicates, spikes, type WellQc } from './qc-samples.ts';
import { sampleOfPerson, unwantedSample } from './reconcile-sample.ts';
import { linkFaults } from './sample-links.ts';
import { splits } from './splits.ts';
import { type SuiteBook, suiteBook } from './suite-book.ts';
import { outlooks } from './well-outlook.ts';
import { workDays } from './work-days.ts';

export interface PlanProposal {
  readonly event: string;
  /** What is planned, kept and dropped; parents before what is of them. */
  readonly samples: readonly ProposedSample[];
  /** What crews took without a plan: it is of the plan, and no plan writes it. */
  readonly adopted: readonly AdoptedSample[];
  readonly coolers: readonly ExpectedCoolers[];
  readonly days: readonly string[];
  readonly duplicates: WellQc;
  readonly spikes: WellQc;
  /** How many blanks of each type. */
  readonly blanksAsked: ReadonlyMap<PlannedType, number>;
  /** Of those that are taken care of whole by blanks that crews took without a plan. */
  readonly blanksDone: ReadonlyMap<PlannedType, number>;
  readonly book: SuiteBook;
  readonly wells: WellsOfPlan['wells'];
  /** Why the plan cannot be written: what is named and not there. */
  readonly problems: readonly string[];
  readonly notes: readonly string[];
}

/** Suites that are named and are no record of the firm, laboratories that are not there. */
function problemsOf(facts: PlanningFacts, { wells }: WellsOfPlan, book: SuiteBook): string[] {
  const plan = facts.samples.event.fields.plan.sampling;
  const named = new Map<string, string>();
  for (const { well, suites } of wells)
    for (const suite of suites) named.set(suite, named.get(suite) ?? `at well ${well.fields.name}`);
  for (const suite of plan?.tripBlankSuites ?? []) named.set(suite, named.get(suite) ?? 'for trip blanks');
  const unknown = [...named].filter(([suite]) => !book.suites.has(suite));
  // a group that is not of the catalog of this release is left out of what was read
  const empty = [...named].filter(([suite]) => book.suites.get(suite)?.fields.groups.length === 0);
  const laboratories = [
    ...(plan?.laboratoryOf ?? []).map(({ laboratory }) => laboratory),
    ...(plan?.wells ?? []).flatMap(({ splitWith }) => splitWith ?? []),
  ];
  const missing = new Set(laboratories.filter((id) => !book.laboratories.has(id)));
  return [
    ...unknown.map(
      ([suite, where]) =>
        `The suite ${JSON.stringify(suite)}, named ${where}, is not there: record an analyte suite of that name (POST /v1/analyte-suites), or correct the name in the assignment or in the plan of the event.`,
    ),
    ...empty.map(
      ([suite]) =>
        `The suite ${JSON.stringify(suite)} names no group that the catalog of this release holds: change it to groups of the catalog (PATCH /v1/analyte-suites/${book.suites.get(suite)?.id}).`,
    ),
    ...[...missing].map(
      (id) =>
        `The plan of the event names the laboratory ${id}, which is not there: record it (POST /v1/laboratories), or name another.`,
    ),
  ];
}

function isCounted({ standing }: ProposedContainer): boolean {
  return standing === 'expected' || standing === 'filled';
}

/** What goes to each laboratory in containers of wells and of blanks that are taken on the way. */
function loadsOf(on: PlanningWells, samples: readonly ProposedSample[], trips: readonly string[]): LaboratoryLoad[] {
  const volumes = new Map<string | null, { all: number; trip: number }>();
  for (const container of samples.flatMap(({ containers }) => containers).filter(isCounted)) {
    const its = volumes.get(container.laboratory) ?? { all: 0, trip: 0 };
    const fillClass = analyteGroup(container.group)?.filling.fillClass ?? null;
    // no record is refused for its content: one whose volume is below nothing takes no room
    const takesMl = Math.max(0, Number(container.volumeMl));
    its.all += takesMl;
    if (isOfTrip({ fillClass, suite: container.suite }, trips)) its.trip += takesMl;
    volumes.set(container.laboratory, its);
  }
  const { coolers } = on.facts.samples;
  for (const { fields } of coolers)
    volumes.set(fields.laboratory ?? null, volumes.get(fields.laboratory ?? null) ?? { all: 0, trip: 0 });
  return [...volumes].map(([laboratory, { all, trip }]) => {
    const its = coolers.filter(({ fields }) => (fields.laboratory ?? null) === laboratory);
    const withTrip = its.filter(({ id }) => holdsTrip(on, id, trips));
    const onRecord = { onRecord: its.length, onRecordWithTripBlank: withTrip.length };
    return { laboratory, volumeMl: all, withTripBlankMl: trip, ...onRecord };
  });
}

function holdsTrip({ facts }: PlanningWells, cooler: string, trips: readonly string[]): boolean {
  return facts.samples.containers.some(({ fields }) => {
    const fillClass = analyteGroup(fields.group)?.filling.fillClass ?? null;
    return fields.cooler === cooler && isOfTrip({ fillClass, suite: fields.suite ?? null }, trips);
  });
}

function byLaboratory(a: ExpectedCoolers, b: ExpectedCoolers): number {
  return (a.laboratory ?? '') < (b.laboratory ?? '') ? -1 : 1;
}

export interface PlanGround {
  readonly on: PlanningWells;
  readonly found: WellsOfPlan;
}

/** What a plan rests on, gone through once. */
export function planGround(facts: PlanningFacts): PlanGround {
  const { event } = facts.samples;
  const found = wellsOfPlan(facts.samples);
  const on: PlanningWells = {
    facts,
    wells: found.wells,
    outlooks: outlooks(facts, found.wells),
    ids: new PlanIds(facts),
    book: suiteBook(facts.samples),
    plan: event.fields.plan.sampling ?? null,
    event: event.id,
    standing: eventStanding(facts),
  };
  return { on, found };
}

/** Normal samples that are there and that no well of the plan asks for any more. */
function formerNormals(on: PlanningWells, wanted: ReadonlySet<string>): readonly ProposedSample[] {
  const out = new Map(on.wells.map(({ well, outBecause }) => [well.id, outBecause]));
  const names = new Map(on.facts.samples.wells.map(({ id, fields }) => [id, fields.name]));
  return on.facts.samples.plannedSamples
    .filter(({ id, fields }) => (fields.type === 'normal' || fields.type === 'resample') && !wanted.has(id))
    .map((record) => {
      const { well = '' } = record.fields;
      const isOwn = record.fields.type === 'normal' && record.id === on.ids.normal(well);
      const name = names.get(well) ?? 'its well';
      const because = out.get(well)
        ? `${name}: ${out.get(well)}`
        : `${name} is not among the wells of the event any more`;
      return isOwn ? unwantedSample(record, because, on) : sampleOfPerson(record, [], on);
    });
}

/**
 * The samples of an event as its plan asks for them, beside what is there: what is new, what changes, what stays, and what
 * is dropped and keeps its number. Planned again without a change of anything it is from, it changes nothing.
 *
 * Sources: the frequencies are those of the plan, else of the QC rules of the catalog; each is told with its source.
 */
export function proposePlan(facts: PlanningFacts, { on, found }: PlanGround = planGround(facts)): PlanProposal {
  const normal = normalSamples(on);
  const former = formerNormals(on, new Set(normal.samples.map(({ id }) => id)));
  // what was taken at a well that dropped out is a sample all the same
  const taken = normal.adopted.map(({ sample }) => sample);
  const stays = ({ standing, type, isTaken }: ProposedSample) =>
    type === 'normal' && (standing === 'planned' || isTaken);
  const counted = [...normal.samples, ...former.filter(({ isTaken }) => isTaken)].filter(stays).concat(taken);
  const dup = duplicates(on, counted);
  const [spike, split] = [spikes(on, counted, dup.samples), splits(on, normal.samples.filter(stays))];
  const suites = [...new Set(counted.flatMap((one) => one.suites))].toSorted();
  const days = workDays(facts.samples.event.fields, counted.length);
  const ofWells = [...normal.samples, ...former, ...dup.samples, ...spike.samples, ...split];
  const onWay: WantedBlanks[] = [
    ['equipment-blank', equipmentBlanks(on, suites, days)],
    ['field-blank', fieldBlanks(on, suites, days)],
  ];
  const beside = onWay.map(([type, wanted]) => [type, adoptBlanks(on, type, wanted)] as const);
  const adopted = [...normal.adopted, ...beside.flatMap(([, one]) => one.adopted)];
  const left = beside.map(([type, { wanted }]): WantedBlanks => [type, wanted]);
  const withBlanks = [...ofWells, ...blanks(on, left)];
  const loads = loadsOf(on, [...withBlanks, ...adopted.map(({ sample }) => sample)], tripSuites(on, suites));
  const coolers = loads.map((load) => expectedCoolers(load, days.length)).toSorted(byLaboratory);
  const inCoolers: WantedBlanks[] = [
    ['trip-blank', tripBlanks(on, suites, coolers)],
    ['temperature-blank', temperatureBlanks(on, coolers)],
  ];
  const samples = [...withBlanks, ...blanks(on, inCoolers)];
  return {
    event: facts.samples.event.id,
    samples,
    adopted,
    coolers,
    days,
    duplicates: dup,
    spikes: spike,
    blanksAsked: new Map([...onWay, ...inCoolers].map(([type, wanted]) => [type, wanted.length])),
    blanksDone: new Map(beside.map(([type, { done }]) => [type, done])),
    book: on.book,
    wells: on.wells,
    problems: problemsOf(facts, found, on.book),
    notes: [...found.notes, ...normal.notes, ...notesOf(dup, spike), ...linkFaults(facts.samples)],
  };
}

type WantedBlanks = readonly [PlannedType, readonly WantedBlank[]];

function blanks(on: PlanningWells, types: readonly WantedBlanks[]): readonly ProposedSample[] {
  return types.flatMap(([type, wanted]) => blanksOfType(on, type, wanted));
}

function notesOf(dup: WellQc, spike: WellQc): string[] {
  const short = (what: string, { short: suites }: WellQc, because: string) =>
    suites.map((suite) => `Of ${suite} fewer ${what} are planned than asked for: ${because}.`);
  return [
    ...short('duplicates', dup, 'no further well is left for one'),
    ...short('matrix spikes', spike, 'no further well gives enough water, as far as is known'),
  ];
}
