import type { FillClass } from '../../catalog/analytes/analyte-group.ts';
import { type QcRule, qcRule } from '../../catalog/analytes/qc-rules.ts';
import { isRefusal } from '../../science/refusal.ts';
import { qcCount } from '../../science/samples/qc-count.ts';
import { chooseQc, type QcCandidate, type QcChosen, type QcThere } from './choose-qc.ts';
import { isDroppedByPlan } from './plan-reasons.ts';
import type { WellToSample } from './plan-wells.ts';
import type { PlannedRecord, PlanningFacts } from './planning-facts.ts';
import type { ProposedSample, Wanted } from './proposed.ts';
import { type Reconciling, sampleOfPerson, unwantedSample, wantedSample } from './reconcile-sample.ts';
import { knownSuites } from './suite-book.ts';
import { type Bottle, bottlesFor } from './wanted-bottles.ts';
import { type Suits, suitsDuplicate, suitsSpike, type WellOutlook } from './well-outlook.ts';

export interface PlanningWells extends Reconciling {
  readonly facts: PlanningFacts;
  readonly wells: readonly WellToSample[];
  readonly outlooks: ReadonlyMap<string, WellOutlook>;
}

/** The rules that hold where the plan says nothing. */
export const DUPLICATE_RULE = 'field-duplicate-one-in-10';
export const SPIKE_RULE = 'ms-msd-one-in-20';
export const SPIKE_VOLUME_RULE = 'ms-msd-three-volumes';

export function ruleNamed(id: string): QcRule {
  const rule = qcRule(id);
  if (!rule) throw new Error(`the catalog has no QC rule ${id}: plans rest on it, put it back`);
  return rule;
}

/** For organics the laboratory needs the volume three times. */
const ORGANICS: readonly (FillClass | null)[] = ['volatiles', 'organic-halides', 'semivolatiles', 'pfas'];

export function bottlesAt(on: PlanningWells, names: readonly string[], well: string | null): readonly Bottle[] {
  return bottlesFor({ suites: knownSuites(on.book, names), plan: on.plan, well, book: on.book });
}

/** Where all of its containers go to one laboratory, that one. */
export function oneLaboratory(bottles: readonly Bottle[]): string | null {
  const [first, ...others] = new Set(bottles.map(({ laboratory }) => laboratory));
  return others.length === 0 ? (first ?? null) : null;
}

/** What a person planned for a well as its sample; undefined where nobody did. */
function byPerson({ facts, ids, standing }: PlanningWells, well: string): PlannedRecord | undefined {
  const own = ids.normal(well);
  const ofPlan = standing.planned.get(own);
  if (ofPlan && ofPlan.fields.standing === 'planned') return undefined;
  return facts.samples.plannedSamples.find(
    ({ id, fields }) => id !== own && fields.type === 'normal' && fields.well === well && fields.standing === 'planned',
  );
}

export interface NormalSamples {
  readonly samples: readonly ProposedSample[];
  readonly notes: readonly string[];
}

/** One sample at each well of the plan. */
export function normalSamples(on: PlanningWells): NormalSamples {
  const notes: string[] = [];
  const samples = on.wells.flatMap(({ well, suites, crew, outBecause }): ProposedSample[] => {
    if (outBecause !== null) return [];
    const bottles = bottlesAt(on, suites, well.id);
    const hand = byPerson(on, well.id);
    if (hand) return [sampleOfPerson(hand, bottlesAt(on, hand.fields.suites, well.id), on)];
    const id = on.ids.normal(well.id);
    const record = on.standing.planned.get(id);
    if (record?.fields.standing === 'dropped' && !isDroppedByPlan(record.fields.droppedBecause)) {
      const { number, droppedBecause } = record.fields;
      notes.push(
        `Well ${well.fields.name} is in the plan, but somebody dropped its sample ${number} (${droppedBecause ?? 'without a reason'}): give it the standing planned to take it up again.`,
      );
      return [];
    }
    const wanted = { id, type: 'normal', well: well.id, of: null, crew, suites, bottles } as const;
    return [wantedSample({ ...wanted, laboratory: oneLaboratory(bottles) }, on)];
  });
  return { samples, notes };
}

/** Of each suite how many QC samples one for each so many samples asks for. */
export function askedOfSuites(normals: readonly ProposedSample[], oneForEach: number): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const suite of normals.flatMap(({ suites }) => suites)) counts.set(suite, (counts.get(suite) ?? 0) + 1);
  return new Map(
    [...counts].map(([suite, count]) => {
      const asked = qcCount(count, oneForEach);
      if (isRefusal(asked)) throw new RangeError(asked.refused);
      return [suite, asked];
    }),
  );
}

interface QcKind {
  readonly what: 'duplicate' | 'matrix-spike';
  readonly types: readonly string[];
  readonly type: Wanted['type'];
  readonly suits: (outlook: WellOutlook) => Suits;
  readonly bottles: (suites: readonly string[], well: string | null) => readonly Bottle[];
  readonly oneForEach: number;
}

export interface WellQc {
  readonly samples: readonly ProposedSample[];
  readonly asked: ReadonlyMap<string, number>;
  readonly short: readonly string[];
}

interface QcRecord {
  readonly record: PlannedRecord;
  readonly there: QcThere;
  readonly isOwn: boolean;
}

/** Whether a sample was taken and its crew has left: nothing more is filled beside it. */
function isOver({ facts: { samples } }: PlanningWells, parent: ProposedSample): boolean {
  const visits = new Set(samples.samples.flatMap(({ fields }) => (fields.planned === parent.id ? fields.visit : [])));
  const its = samples.visits.filter(({ id }) => visits.has(id));
  return its.length > 0 && its.every(({ fields }) => fields.left !== undefined);
}

function qcThere(on: PlanningWells, { what, types }: QcKind, parents: ReadonlyMap<string, ProposedSample>): QcRecord[] {
  return on.facts.samples.plannedSamples.flatMap((record): QcRecord[] => {
    const { type, of, suites, crew } = record.fields;
    if (!types.includes(type)) return [];
    const isOwn = of !== undefined && record.id === on.ids.of(what, of);
    const parent = of === undefined ? undefined : parents.get(of);
    const isFixed = !isOwn || on.standing.taken.has(record.id);
    const isLate = parent !== undefined && !isFixed && isOver(on, parent);
    const parentSuites = isLate ? [] : (parent?.suites ?? []);
    const there = { id: record.id, suites, parentSuites, crew: crew ?? null, isFixed };
    return [{ record, there, isOwn }];
  });
}

/** Taken without having been planned. */
function unplanned({ facts: { samples }, standing }: PlanningWells, { types }: QcKind): QcThere[] {
  const visits = new Map(samples.visits.map(({ id, fields }) => [id, fields.crew]));
  return samples.samples.flatMap(({ id, fields }): QcThere[] => {
    if (!types.includes(fields.type ?? 'normal') || standing.planned.has(fields.planned ?? '')) return [];
    const { suites, visit } = fields;
    return [{ id, suites, parentSuites: suites, crew: visits.get(visit) ?? null, isFixed: true }];
  });
}

function candidates(
  on: PlanningWells,
  { what, suits }: QcKind,
  normals: readonly ProposedSample[],
  there: readonly QcRecord[],
): QcCandidate[] {
  const used = new Set(
    there.filter(({ record }) => record.fields.standing === 'planned').map(({ record }) => record.fields.of),
  );
  return normals.flatMap((one): QcCandidate[] => {
    const outlook = one.well === null ? undefined : on.outlooks.get(one.well);
    if (!outlook || one.well === null || one.isTaken || used.has(one.id)) return [];
    const before = on.standing.planned.get(on.ids.of(what, one.id));
    if (before?.fields.standing === 'dropped' && !isDroppedByPlan(before.fields.droppedBecause)) return [];
    const well = on.wells.find((its) => its.well.id === one.well);
    const name = well?.well.fields.name ?? one.well;
    return [
      { parent: one.id, well: one.well, name, crew: one.crew, suites: one.suites, outlook, suits: suits(outlook) },
    ];
  });
}

function wantedOf(kind: QcKind, on: PlanningWells, parent: ProposedSample, suites: readonly string[]): Wanted {
  const bottles = kind.bottles(suites, parent.well);
  return {
    id: on.ids.of(kind.what, parent.id),
    type: kind.type,
    well: parent.well,
    of: parent.id,
    crew: parent.crew,
    laboratory: bottles.length === 0 ? parent.laboratory : oneLaboratory(bottles),
    suites,
    bottles,
  };
}

function becauseOf(kind: QcKind, parent: ProposedSample | undefined, on: PlanningWells): string {
  if (!parent) return 'the sample that it was to be of is planned no more';
  if (isOver(on, parent)) return 'its sample was taken without it';
  return `one for each ${kind.oneForEach} samples is asked for, and others are enough`;
}

/** QC samples of a kind, as many as the frequency asks for of each suite. */
function qcOfKind(kind: QcKind, on: PlanningWells, normals: readonly ProposedSample[]): WellQc {
  const parents = new Map(normals.map((one) => [one.id, one]));
  const records = qcThere(on, kind, parents);
  const standing = records.filter(({ record }) => record.fields.standing === 'planned');
  const asked = askedOfSuites(normals, kind.oneForEach);
  const chosen: QcChosen = chooseQc(
    asked,
    [...standing.map(({ there }) => there), ...unplanned(on, kind)],
    candidates(on, kind, normals, records),
  );
  const own = new Map<string, Wanted>();
  for (const { record, there } of standing) {
    const parent = parents.get(record.fields.of ?? '');
    const suites = chosen.kept.get(record.id);
    if (!there.isFixed && parent && suites) own.set(record.id, wantedOf(kind, on, parent, suites));
  }
  for (const { candidate, suites } of chosen.added) {
    const parent = parents.get(candidate.parent);
    if (parent) own.set(on.ids.of(kind.what, parent.id), wantedOf(kind, on, parent, suites));
  }
  const rest = records.filter(({ record }) => !own.has(record.id));
  const samples = [
    ...[...own.values()].map((wanted) => wantedSample(wanted, on)),
    ...rest.map(({ record, isOwn }) => {
      if (isOwn) return unwantedSample(record, becauseOf(kind, parents.get(record.fields.of ?? ''), on), on);
      return sampleOfPerson(record, kind.bottles(record.fields.suites, record.fields.well ?? null), on);
    }),
  ];
  return { samples, asked, short: chosen.short };
}

export function duplicates(on: PlanningWells, normals: readonly ProposedSample[]): WellQc {
  const kind: QcKind = {
    what: 'duplicate',
    types: ['duplicate', 'blind-duplicate'],
    type: (on.plan?.blindDuplicates ?? true) ? 'blind-duplicate' : 'duplicate',
    suits: suitsDuplicate,
    bottles: (suites, well) => bottlesAt(on, suites, well),
    oneForEach: on.plan?.duplicatesPer ?? ruleNamed(DUPLICATE_RULE).oneForEach ?? 10,
  };
  return qcOfKind(kind, on, normals);
}

/** A spike has the bottles that come on top of those of its sample; of what is no organic the same bottle serves. */
export function spikes(on: PlanningWells, normals: readonly ProposedSample[]): WellQc {
  const times = (ruleNamed(SPIKE_VOLUME_RULE).volumeTimes ?? 3) - 1;
  const kind: QcKind = {
    what: 'matrix-spike',
    types: ['matrix-spike'],
    type: 'matrix-spike',
    suits: suitsSpike,
    bottles: (suites, well) =>
      bottlesAt(on, suites, well)
        .filter(({ fillClass }) => ORGANICS.includes(fillClass))
        .flatMap((bottle) => Array.from({ length: times }, () => bottle)),
    oneForEach: on.plan?.msMsdPer ?? ruleNamed(SPIKE_RULE).oneForEach ?? 20,
  };
  return qcOfKind(kind, on, normals);
}

/** A split of each sample of a well for the laboratory of another party, where the plan says so. */
export function splits(on: PlanningWells, normals: readonly ProposedSample[]): readonly ProposedSample[] {
  const splitWith = new Map(on.wells.map(({ well, splitWith: laboratory }) => [well.id, laboratory]));
  const wanted = normals.flatMap((parent): Wanted[] => {
    const laboratory = parent.well === null ? null : (splitWith.get(parent.well) ?? null);
    if (laboratory === null) return [];
    const bottles = bottlesAt(on, parent.suites, parent.well).map((bottle) => ({ ...bottle, laboratory }));
    const { well, crew, suites, id: of } = parent;
    return [{ id: on.ids.of('split', of), type: 'split', well, of, crew, laboratory, suites, bottles }];
  });
  const ids = new Set(wanted.map(({ id }) => id));
  const rest = on.facts.samples.plannedSamples.filter(({ id, fields }) => fields.type === 'split' && !ids.has(id));
  return [
    ...wanted.map((one) => splitWanted(one, on)),
    ...rest.map((record) =>
      record.id === on.ids.of('split', record.fields.of ?? '')
        ? unwantedSample(record, 'no split of its sample is asked for any more', on)
        : sampleOfPerson(record, bottlesAt(on, record.fields.suites, record.fields.well ?? null), on),
    ),
  ];
}

/** What a person dropped stays dropped. */
function splitWanted(wanted: Wanted, on: PlanningWells): ProposedSample {
  const record = on.standing.planned.get(wanted.id);
  const isDropped = record?.fields.standing === 'dropped' && !isDroppedByPlan(record.fields.droppedBecause);
  return record && isDropped ? unwantedSample(record, '', on) : wantedSample(wanted, on);
}
