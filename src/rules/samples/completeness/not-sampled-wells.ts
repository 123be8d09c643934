import { z } from 'zod';
import { PLANNED_TYPES } from '../../../protocol/kinds/planned-sample.ts';
import { VISIT_OUTCOMES } from '../../../protocol/kinds/visit.ts';
import { instant } from '../../../protocol/primitives.ts';
import { recordId } from '../../equipment-told/told-fields.ts';
import { AFTER_LEAVING, type LeftWithout, leftWithout } from '../../sampling-plan/left-without.ts';
import { isMissed } from '../../sampling-plan/qc-samples.ts';
import { QC_OF_WELLS } from '../../sampling-plan/qc-types.ts';
import type { EventSamples } from '../event-samples.ts';
import type { PlannedRecord } from '../sample-records.ts';

const text = z.string().nullable();

export const notSampledShape = z.strictObject({
  visit: recordId('visit'),
  outcome: z.enum(VISIT_OUTCOMES).nullable().describe('Of the last visit that was to take a sample'),
  outcomeReason: text,
  crew: recordId('crew'),
  crewName: text,
  left: instant.nullable(),
  after: z.enum(AFTER_LEAVING).describe('Whether its sample may still be taken'),
  qcOwedAnew: z
    .array(
      z.strictObject({
        plannedSample: recordId('planned-sample'),
        number: z.string(),
        type: z.enum(PLANNED_TYPES),
        suites: z.array(z.string()),
      }),
    )
    .describe('QC samples that were planned here and belong to another well now; the sampling plan says to which'),
  sentence: z.string(),
});
export type NotSampledWell = z.output<typeof notSampledShape>;

/** Nobody fills it there any more: dropped for want of its well, or planned at one that gives nothing beyond its sample. */
function isOwedAnew({ fields }: PlannedRecord, after: LeftWithout['after']): boolean {
  if (!QC_OF_WELLS.includes(fields.type)) return false;
  const { standing, droppedBecause = null } = fields;
  return standing === 'planned' ? after !== 'another-visit' : isMissed({ standing, droppedBecause });
}

function toldWell(of: EventSamples, well: string, name: string, left: LeftWithout): NotSampledWell {
  const { id: visit, fields } = left.visit;
  const owed = of.plannedSamples.filter((one) => one.fields.well === well && isOwedAnew(one, left.after));
  const qcOwedAnew = owed.map(({ id: plannedSample, fields: { number, type, suites } }) => {
    return { plannedSample, number, type, suites: [...suites] };
  });
  const each = qcOwedAnew.map(({ type, number, suites }) => `${type} ${number} (${suites.join(', ')})`);
  const more = each.length === 0 ? '' : ` Owed at another well: ${each.join(', ')}.`;
  return {
    visit,
    outcome: fields.outcome ?? null,
    outcomeReason: fields.outcomeReason ?? null,
    crew: fields.crew,
    crewName: of.crews.find(({ id }) => id === fields.crew)?.fields.name ?? null,
    left: fields.left ?? null,
    after: left.after,
    qcOwedAnew,
    sentence: `${name} was left without a sample: ${left.said}.${more}`,
  };
}

/** Wells of the event that were left without a sample, by their ids; those of which only the level was asked are none. */
export function notSampledWells(of: EventSamples): ReadonlyMap<string, NotSampledWell> {
  const names = new Map(of.wells.map(({ id, fields }) => [id, fields.name]));
  const toSample = of.visits.filter(({ fields }) => fields.method !== 'gauging');
  const wells = [...toSample, ...of.plannedSamples, ...of.assignments.filter(({ fields }) => fields.suites?.length)];
  return new Map(
    [...new Set(wells.flatMap(({ fields }) => fields.well ?? []))].flatMap((well) => {
      const left = leftWithout(of, well);
      return left === null ? [] : [[well, toldWell(of, well, names.get(well) ?? well, left)] as const];
    }),
  );
}
