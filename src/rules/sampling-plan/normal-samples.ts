import type { PlannedRecord } from '../samples/sample-records.ts';
import { type AdoptedSample, adoptedAt } from './adopted-samples.ts';
import { isDroppedByPlan } from './plan-reasons.ts';
import type { WellToSample } from './plan-wells.ts';
import { bottlesAt, oneLaboratory, type PlanningWells } from './planning-wells.ts';
import type { ProposedSample } from './proposed.ts';
import { sampleOfPerson, unwantedSample, wantedSample } from './reconcile-sample.ts';

/** What a person planned for a well as its sample; undefined where nobody did. */
function byPerson({ facts, ids, standing }: PlanningWells, well: string): PlannedRecord | undefined {
  const own = ids.normal(well);
  const ofPlan = standing.planned.get(own);
  if (ofPlan && ofPlan.fields.standing === 'planned') return undefined;
  const its = facts.samples.plannedSamples.filter(
    ({ id, fields }) => id !== own && fields.type === 'normal' && fields.well === well,
  );
  return (
    its.find(({ fields }) => fields.standing === 'planned') ??
    its.find(({ fields }) => isDroppedByPlan(fields.droppedBecause))
  );
}

export interface NormalSamples {
  readonly samples: readonly ProposedSample[];
  /** Taken without a plan: nothing is planned of their suites beside them. */
  readonly adopted: readonly AdoptedSample[];
  readonly notes: readonly string[];
}

interface OfWell {
  readonly sample: ProposedSample | null;
  readonly notes: readonly string[];
}

function droppedNote({ well }: WellToSample, { fields: { number, droppedBecause } }: PlannedRecord): string {
  return `Well ${well.fields.name} is in the plan, but somebody dropped its sample ${number} (${droppedBecause ?? 'without a reason'}): give it the standing planned to take it up again.`;
}

function adoptedNote({ well }: WellToSample, adopted: readonly AdoptedSample[], left: readonly string[]): string {
  const each = adopted.map(({ sample: { number, suites } }) => `${number} (${suites.join(', ')})`).join(', ');
  const rest = left.length === 0 ? 'nothing more is planned there' : `planned there is only ${left.join(', ')}`;
  return `Well ${well.fields.name} was sampled without being planned: ${each} is of the plan as it is, and ${rest}.`;
}

function takenAs(adopted: readonly AdoptedSample[]): string {
  return `its suites were taken as ${adopted.map(({ sample }) => sample.number).join(', ')}`;
}

/** What a person planned stays, unless all of it was taken as another sample, and comes back once that is taken back. */
function ofHand(on: PlanningWells, at: WellToSample, hand: PlannedRecord, adopted: readonly AdoptedSample[]): OfWell {
  const { suites, standing, crew = null, laboratory = null } = hand.fields;
  const isTaken = on.standing.taken.has(hand.id);
  const left = suites.filter((suite) => !adopted.some(({ sample }) => sample.suites.includes(suite)));
  if (!isTaken && adopted.length > 0 && left.length === 0)
    return { sample: unwantedSample(hand, takenAs(adopted), on), notes: [adoptedNote(at, adopted, [])] };
  const bottles = bottlesAt(on, suites, at.well.id);
  if (standing === 'planned') return { sample: sampleOfPerson(hand, bottles, on), notes: [] };
  const wanted = {
    id: hand.id,
    type: 'normal',
    well: at.well.id,
    of: null,
    crew,
    laboratory,
    suites,
    bottles,
  } as const;
  return { sample: wantedSample(wanted, on), notes: [] };
}

function ofWell(on: PlanningWells, at: WellToSample, adopted: readonly AdoptedSample[]): OfWell {
  const { well, crew } = at;
  const hand = byPerson(on, well.id);
  if (hand) return ofHand(on, at, hand, adopted);
  const id = on.ids.normal(well.id);
  const record = on.standing.planned.get(id);
  if (record?.fields.standing === 'dropped' && !isDroppedByPlan(record.fields.droppedBecause))
    return { sample: null, notes: [droppedNote(at, record)] };
  const suites = at.suites.filter((suite) => !adopted.some(({ sample }) => sample.suites.includes(suite)));
  const notes = adopted.length === 0 ? [] : [adoptedNote(at, adopted, suites)];
  if (suites.length === 0) {
    return { sample: record ? unwantedSample(record, takenAs(adopted), on) : null, notes };
  }
  const bottles = bottlesAt(on, suites, well.id);
  const wanted = { id, type: 'normal', well: well.id, of: null, crew, suites, bottles } as const;
  return { sample: wantedSample({ ...wanted, laboratory: oneLaboratory(bottles) }, on), notes };
}

/** One sample at each well of the plan, of what was not taken there before it was planned. */
export function normalSamples(on: PlanningWells): NormalSamples {
  const wells = on.wells.filter(({ outBecause }) => outBecause === null);
  const found = wells.map((at) => {
    const adopted = adoptedAt(on, at);
    return { adopted, ...ofWell(on, at, adopted) };
  });
  return {
    samples: found.flatMap(({ sample }) => sample ?? []),
    adopted: found.flatMap(({ adopted }) => adopted),
    notes: found.flatMap(({ notes }) => notes),
  };
}
