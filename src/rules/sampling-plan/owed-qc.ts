import { isRefusal } from '../../science/refusal.ts';
import { qcCount } from '../../science/samples/qc-count.ts';
import type { SampleRecord } from '../samples/sample-records.ts';
import { compareCandidates, type QcCandidate } from './choose-qc.ts';
import { DUPLICATE_RULE, ruleNamed, SPIKE_RULE } from './default-rules.ts';
import { lostSamples } from './lost-samples.ts';
import type { WellToSample } from './plan-wells.ts';
import { dayAtSite, type PlanningWells } from './planning-wells.ts';
import type { PlanProposal } from './propose-plan.ts';
import type { ProposedSample } from './proposed.ts';
import type { WellQc } from './qc-samples.ts';
import { DUPLICATES, QC_OF_WELLS, SPIKES } from './qc-types.ts';
import { type Suits, suitsDuplicate, suitsSpike, type WellOutlook } from './well-outlook.ts';

/** Of one suite: normal samples and QC samples so far, and how many QC samples that asks for. */
export interface SuiteOwed {
  readonly suite: string;
  readonly taken: number;
  readonly done: number;
  readonly askedSoFar: number;
  readonly owedNow: number;
  readonly askedInAll: number;
}

/** A well that is still to be done, and whether the QC sample may be taken there. */
export interface WellForQc extends Suits {
  readonly well: string;
  readonly name: string;
  readonly crew: string | null;
  /** Suites of the well of which one is still owed, now or later. */
  readonly suites: readonly string[];
  /** The planned sample of this type at the well, and its number. */
  readonly planned: string | null;
  readonly number: string | null;
}

export interface QcOwedAtWells {
  readonly suites: readonly SuiteOwed[];
  readonly done: number;
  readonly doneOnDay: number;
  readonly owedNow: number;
  /** Until the end of the event, what is owed now among them. */
  readonly toCome: number;
  /** The best first. */
  readonly wells: readonly WellForQc[];
}

interface Asking {
  readonly on: PlanningWells;
  readonly proposal: PlanProposal;
  readonly day: string;
}

interface QcKind {
  readonly types: readonly string[];
  readonly chosen: WellQc;
  readonly oneForEach: number;
  readonly suits: (outlook: WellOutlook) => Suits;
  readonly name: string;
}

function typeOf({ on: { standing } }: Asking, { id, fields }: SampleRecord): string {
  return fields.type ?? standing.planned.get(standing.plannedOf.get(id) ?? '')?.fields.type ?? 'normal';
}

function ofSuite(list: readonly SampleRecord[], suite: string): number {
  return list.filter(({ fields }) => fields.suites.includes(suite)).length;
}

function counted(normalSamples: number, oneForEach: number): number {
  const asked = qcCount(normalSamples, oneForEach);
  if (isRefusal(asked)) throw new RangeError(asked.refused);
  return asked;
}

function suitesOwed(asking: Asking, kind: QcKind, done: readonly SampleRecord[]): SuiteOwed[] {
  const normals = asking.on.facts.samples.samples.filter((one) => typeOf(asking, one) === 'normal');
  const names = new Set([...kind.chosen.asked.keys(), ...normals.flatMap(({ fields }) => fields.suites)]);
  return [...names].toSorted().map((suite) => {
    const taken = ofSuite(normals, suite);
    const its = ofSuite(done, suite);
    const askedSoFar = counted(taken, kind.oneForEach);
    const askedInAll = Math.max(kind.chosen.asked.get(suite) ?? 0, askedSoFar);
    return { suite, taken, done: its, askedSoFar, owedNow: Math.max(0, askedSoFar - its), askedInAll };
  });
}

/** Not sampled yet, or still being worked at: what is taken on top can be taken there. */
export function isStillToDo({ facts: { samples } }: PlanningWells, { well, outBecause }: WellToSample): boolean {
  if (outBecause !== null) return false;
  const visits = samples.visits.filter(({ fields }) => fields.well === well.id);
  const sampled = new Set(samples.samples.map(({ fields }) => fields.visit));
  const its = visits.filter(({ id }) => sampled.has(id));
  return its.length === 0 || its.some(({ fields }) => fields.left === undefined);
}

/** The crew that is at the well, else the one that is assigned to it. */
function crewAt({ on }: Asking, { well, crew }: WellToSample): string | null {
  const open = on.facts.samples.visits.find(({ fields }) => fields.well === well.id && fields.left === undefined);
  return open?.fields.crew ?? crew;
}

function plannedAt({ proposal, on }: Asking, kind: QcKind, well: string): ProposedSample | undefined {
  return proposal.samples.find(
    (one) =>
      one.well === well &&
      kind.types.includes(one.type) &&
      one.standing === 'planned' &&
      !on.standing.taken.has(one.id),
  );
}

/** Nobody could get at it: earlier rounds say nothing of whether somebody does now. */
function needsAnotherVisit({ left }: WellToSample): boolean {
  return left?.after === 'another-visit';
}

function suitsAt(at: WellToSample, { suits, why }: Suits): Suits {
  if (!needsAnotherVisit(at)) return { suits, why };
  const said = `it was left without a sample and needs another visit: ${at.left?.said}`;
  return { suits: suits === 'no' ? 'no' : 'poor', why: [said, ...why] };
}

function candidate(asking: Asking, kind: QcKind, at: WellToSample, owing: ReadonlySet<string>): QcCandidate[] {
  const outlook = asking.on.outlooks.get(at.well.id);
  if (!outlook) return [];
  const suites = at.suites.filter((suite) => owing.has(suite));
  const suits = suitsAt(at, kind.suits(outlook));
  const none: Suits = { suits: 'no', why: ['no suite of this well is owed any more'] };
  const { id: well, fields } = at.well;
  const crew = crewAt(asking, at);
  const isBusy = asking.proposal.samples.some(
    ({ type, well: its, standing }) =>
      its === well && standing === 'planned' && QC_OF_WELLS.includes(type) && !kind.types.includes(type),
  );
  const said = suites.length > 0 ? suits : none;
  return [{ parent: well, well, name: fields.name, crew, suites, outlook, suits: said, isBusy }];
}

/** How many of them a crew took, against its wells. */
function loads(asking: Asking, done: readonly SampleRecord[]): (crew: string | null) => number {
  const crewOf = new Map(asking.on.facts.samples.visits.map(({ id, fields }) => [id, fields.crew]));
  const crews = done.map(({ fields }) => crewOf.get(fields.visit) ?? null);
  return (crew) => {
    const wells = asking.on.wells.filter((one) => one.crew === crew).length;
    return crews.filter((one) => one === crew).length / Math.max(1, wells);
  };
}

function wellsFor(
  asking: Asking,
  kind: QcKind,
  suites: readonly SuiteOwed[],
  done: readonly SampleRecord[],
): readonly WellForQc[] {
  const owing = new Set(suites.flatMap((one) => (one.askedInAll > one.done ? one.suite : [])));
  const loadOf = loads(asking, done);
  const left = asking.on.wells.filter((one) => isStillToDo(asking.on, one));
  const placed = left.flatMap((one) => candidate(asking, kind, one, owing));
  const planned = new Map(placed.map(({ well }) => [well, plannedAt(asking, kind, well)]));
  const away = new Set(left.filter(needsAnotherVisit).map(({ well }) => well.id));
  const first = ({ well, suits }: QcCandidate) =>
    planned.get(well) && suits.suits !== 'no' && !away.has(well) ? 0 : 1;
  return placed
    .toSorted((a, b) => first(a) - first(b) || compareCandidates(a, b, ({ suites: its }) => its.length, loadOf))
    .map(({ well, name, crew, suites: its, suits }) => {
      const there = planned.get(well);
      const why = [
        ...(there ? [`${kind.name} is planned here${there.number === null ? '' : ` as ${there.number}`}`] : []),
        ...suits.why,
        ...(crew !== null && suits.suits !== 'no' && loadOf(crew) === 0 ? ['its crew has taken none yet'] : []),
      ];
      const of = { planned: there?.id ?? null, number: there?.number ?? null };
      return { well, name, crew, suites: its, ...of, suits: suits.suits, why };
    });
}

function most(list: readonly number[]): number {
  return Math.max(0, ...list);
}

function owedOf(asking: Asking, kind: QcKind): QcOwedAtWells {
  const { samples } = asking.on.facts;
  const lost = lostSamples(samples);
  const done = samples.samples.filter((one) => kind.types.includes(typeOf(asking, one)) && !lost.has(one.id));
  const suites = suitesOwed(asking, kind, done);
  return {
    suites,
    done: done.length,
    doneOnDay: done.filter(({ fields }) => dayAtSite(asking.on, fields.collected) === asking.day).length,
    owedNow: most(suites.map(({ owedNow }) => owedNow)),
    toCome: most(suites.map(({ askedInAll, done: its }) => askedInAll - its)),
    wells: wellsFor(asking, kind, suites, done),
  };
}

/** Duplicates by the samples so far, and which of the wells that are left suit. */
export function owedDuplicates(asking: Asking): QcOwedAtWells {
  return owedOf(asking, {
    types: DUPLICATES,
    chosen: asking.proposal.duplicates,
    oneForEach: asking.on.plan?.duplicatesPer ?? ruleNamed(DUPLICATE_RULE).oneForEach ?? 10,
    suits: suitsDuplicate,
    name: 'a duplicate',
  });
}

/** The same of matrix spikes, which never go to a blank or to a well with little water. */
export function owedSpikes(asking: Asking): QcOwedAtWells {
  return owedOf(asking, {
    types: SPIKES,
    chosen: asking.proposal.spikes,
    oneForEach: asking.on.plan?.msMsdPer ?? ruleNamed(SPIKE_RULE).oneForEach ?? 20,
    suits: suitsSpike,
    name: 'a matrix spike',
  });
}
