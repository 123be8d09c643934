import type { PlannedRecord } from '../samples/sample-records.ts';
import { isDroppedByPlan } from './plan-reasons.ts';
import { bottlesAt, oneLaboratory, type PlanningWells } from './planning-wells.ts';
import type { ProposedSample } from './proposed.ts';
import { sampleOfPerson, wantedSample } from './reconcile-sample.ts';

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
