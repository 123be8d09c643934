import { isRefusal } from '../../science/refusal.ts';
import { qcCount } from '../../science/samples/qc-count.ts';
import type { PlannedRecord } from '../samples/sample-records.ts';
import { chooseQc, type QcCandidate, type QcChosen, type QcThere } from './choose-qc.ts';
import { DUPLICATE_RULE, ruleNamed, SPIKE_RULE } from './default-rules.ts';
import { lostSamples } from './lost-samples.ts';
import { isDroppedByPlan } from './plan-reasons.ts';
import { bottlesAt, oneLaboratory, type PlanningWells } from './planning-wells.ts';
import type { ProposedSample, Wanted } from './proposed.ts';
import { DUPLICATES, SPIKES } from './qc-types.ts';
import { sampleOfPerson, stands, unwantedSample, wantedSample } from './reconcile-sample.ts';
import { spikeBottles } from './spike-bottles.ts';
import type { Bottle } from './wanted-bottles.ts';
import { type Suits, suitsDuplicate, suitsSpike, type WellOutlook } from './well-outlook.ts';

/** Of each suite how many QC samples one for each so many samples asks for. */
function askedOfSuites(normals: readonly ProposedSample[], oneForEach: number): ReadonlyMap<string, number> {
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
function isOver({ facts: { samples }, standing }: PlanningWells, parent: ProposedSample): boolean {
  const taken = samples.samples.filter(({ id }) => standing.plannedOf.get(id) === parent.id);
  const visits = new Set(taken.map(({ fields }) => fields.visit));
  const its = samples.visits.filter(({ id }) => visits.has(id));
  return its.length > 0 && its.every(({ fields }) => fields.left !== undefined);
}

/** Why its well gives no water for it any more; null where it may be taken. */
function shortAt(on: PlanningWells, { suits }: QcKind, parent: ProposedSample): string | null {
  const outlook = on.outlooks.get(parent.well ?? '');
  return outlook && outlook.shortNow !== null ? suits(outlook).why.join('; ') : null;
}

function qcThere(on: PlanningWells, kind: QcKind, parents: ReadonlyMap<string, ProposedSample>): QcRecord[] {
  const { what, types } = kind;
  return on.facts.samples.plannedSamples.flatMap((record): QcRecord[] => {
    const { type, of, suites, crew } = record.fields;
    if (!types.includes(type)) return [];
    const isOwn = of !== undefined && record.id === on.ids.of(what, of);
    const parent = of === undefined ? undefined : parents.get(of);
    const isFixed = !isOwn || on.standing.taken.has(record.id);
    const isLate = parent !== undefined && !isFixed && (isOver(on, parent) || shortAt(on, kind, parent) !== null);
    const parentSuites = isLate ? [] : (parent?.suites ?? []);
    const there = { id: record.id, suites, parentSuites, crew: crew ?? null, isFixed };
    return [{ record, there, isOwn }];
  });
}

/** Taken without having been planned. */
function unplanned(
  { facts: { samples }, standing }: PlanningWells,
  { types }: QcKind,
  lost: ReadonlySet<string>,
): QcThere[] {
  const visits = new Map(samples.visits.map(({ id, fields }) => [id, fields.crew]));
  return samples.samples.flatMap(({ id, fields }): QcThere[] => {
    if (!types.includes(fields.type ?? 'normal') || standing.plannedOf.has(id) || lost.has(id)) return [];
    const { suites, visit } = fields;
    return [{ id, suites, parentSuites: suites, crew: visits.get(visit) ?? null, isFixed: true }];
  });
}

function candidates(
  on: PlanningWells,
  { what, suits }: QcKind,
  normals: readonly ProposedSample[],
  there: readonly QcRecord[],
  busy: ReadonlySet<string>,
): QcCandidate[] {
  const used = new Set(there.filter(({ record }) => stands(record, on)).map(({ record }) => record.fields.of));
  return normals.flatMap((one): QcCandidate[] => {
    const outlook = one.well === null ? undefined : on.outlooks.get(one.well);
    if (!outlook || one.well === null || one.isTaken || used.has(one.id)) return [];
    const before = on.standing.planned.get(on.ids.of(what, one.id));
    if (before?.fields.standing === 'dropped' && !isDroppedByPlan(before.fields.droppedBecause)) return [];
    const well = on.wells.find((its) => its.well.id === one.well);
    const name = well?.well.fields.name ?? one.well;
    return [
      {
        parent: one.id,
        well: one.well,
        name,
        crew: one.crew,
        suites: one.suites,
        outlook,
        suits: suits(outlook),
        isBusy: busy.has(one.id),
      },
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

/** What ends the reason of a QC sample that nobody misses. */
const OTHERS_ENOUGH = 'others are enough';

/** Whether a plan dropped it for want of its well, so that another takes its place. */
export function isMissed({ standing, droppedBecause }: Pick<ProposedSample, 'standing' | 'droppedBecause'>): boolean {
  return standing === 'dropped' && isDroppedByPlan(droppedBecause) && !droppedBecause?.endsWith(OTHERS_ENOUGH);
}

function becauseOf(kind: QcKind, { fields }: PlannedRecord, parent: ProposedSample | undefined, on: PlanningWells) {
  const at = on.wells.find(({ well }) => well.id === fields.well);
  const out = at?.outBecause == null ? '' : ` (${at.well.fields.name}: ${at.outBecause})`;
  if (!parent) return `the sample that it was to be of is planned no more${out}`;
  if (isOver(on, parent)) return 'its sample was taken without it';
  const short = shortAt(on, kind, parent);
  if (short !== null) return `${at?.well.fields.name ?? 'its well'}: ${short}`;
  return `one for each ${kind.oneForEach} samples is asked for, and ${OTHERS_ENOUGH}`;
}

type ParentOf = Pick<ProposedSample, 'of' | 'standing'>;

function parentsOf(qc: readonly ParentOf[]): ReadonlySet<string> {
  return new Set(qc.flatMap(({ of, standing }) => (of !== null && standing === 'planned' ? of : [])));
}

/** QC samples of a kind, as many as the frequency asks for of each suite. */
function qcOfKind(
  kind: QcKind,
  on: PlanningWells,
  normals: readonly ProposedSample[],
  others: readonly ParentOf[],
): WellQc {
  const parents = new Map(normals.map((one) => [one.id, one]));
  const records = qcThere(on, kind, parents);
  const standing = records.filter(({ record }) => stands(record, on));
  const asked = askedOfSuites(normals, kind.oneForEach);
  const lost = lostSamples(on.facts.samples);
  // by the sample that was taken for it: one that is planned and not taken has lost nothing
  const gone = new Set([...on.standing.plannedOf].flatMap(([sample, plan]) => (lost.has(sample) ? [plan] : [])));
  const counted = standing.filter(({ record }) => !gone.has(record.id));
  const chosen: QcChosen = chooseQc(
    asked,
    [...counted.map(({ there }) => there), ...unplanned(on, kind, lost)],
    candidates(on, kind, normals, records, parentsOf(others)),
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
      if (isOwn) return unwantedSample(record, becauseOf(kind, record, parents.get(record.fields.of ?? ''), on), on);
      return sampleOfPerson(record, kind.bottles(record.fields.suites, record.fields.well ?? null), on);
    }),
  ];
  return { samples, asked, short: chosen.short };
}

export function duplicates(on: PlanningWells, normals: readonly ProposedSample[]): WellQc {
  const kind: QcKind = {
    what: 'duplicate',
    types: DUPLICATES,
    type: (on.plan?.blindDuplicates ?? true) ? 'blind-duplicate' : 'duplicate',
    suits: suitsDuplicate,
    bottles: (suites, well) => bottlesAt(on, suites, well),
    oneForEach: on.plan?.duplicatesPer ?? ruleNamed(DUPLICATE_RULE).oneForEach ?? 10,
  };
  const spiked = on.facts.samples.plannedSamples.filter(({ fields }) => fields.type === 'matrix-spike');
  return qcOfKind(
    kind,
    on,
    normals,
    spiked.map(({ fields: { of = null, standing } }) => ({ of, standing })),
  );
}

/** A spike has the bottles that come on top of those of its sample; of what is no organic the same bottle serves. */
export function spikes(
  on: PlanningWells,
  normals: readonly ProposedSample[],
  duplicated: readonly ProposedSample[],
): WellQc {
  const kind: QcKind = {
    what: 'matrix-spike',
    types: SPIKES,
    type: 'matrix-spike',
    suits: suitsSpike,
    bottles: (suites, well) => spikeBottles(bottlesAt(on, suites, well)),
    oneForEach: on.plan?.msMsdPer ?? ruleNamed(SPIKE_RULE).oneForEach ?? 20,
  };
  return qcOfKind(kind, on, normals, duplicated);
}
