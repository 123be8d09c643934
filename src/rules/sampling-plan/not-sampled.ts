import { z } from 'zod';
import { PLANNED_TYPES } from '../../protocol/kinds/planned-sample.ts';
import { VISIT_OUTCOMES } from '../../protocol/kinds/visit.ts';
import { id, instant } from '../../protocol/primitives.ts';
import { AFTER_LEAVING, type LeftWithout } from './left-without.ts';
import type { WellToSample } from './plan-wells.ts';
import type { PlanProposal } from './propose-plan.ts';
import type { PlannedType, ProposedSample } from './proposed.ts';
import { isMissed } from './qc-samples.ts';
import { DUPLICATES, QC_OF_WELLS } from './qc-types.ts';

const text = z.string().nullable();
const count = z.int().min(0);

const dropped = z.strictObject({
  planned: id,
  number: text,
  type: z.enum(PLANNED_TYPES),
  suites: z.array(z.string()),
  containers: count.describe('Dropped with it'),
  because: text,
});

const owedAnew = z.strictObject({
  type: z.enum(PLANNED_TYPES),
  number: text.describe('Of the one that was planned at the well'),
  suites: z.array(z.string()).describe('Of which it was to be'),
  lacking: z.array(z.string()).describe('Suites among them of which one is asked for and planned nowhere'),
  plannedAt: z
    .array(z.strictObject({ planned: id, number: text, well: id.nullable(), wellName: text }))
    .describe('Those of its type and suites that the plan has at other wells and that are still to be taken'),
});

/** A well that was left without a sample, with what that does to the plan. */
export const notSampledShape = z.strictObject({
  well: id,
  name: z.string(),
  visit: id,
  crew: id,
  crewName: text,
  outcome: z.enum(VISIT_OUTCOMES).nullable().describe('Null where the crew left without naming one'),
  outcomeReason: text,
  left: instant.nullable(),
  after: z
    .enum(AFTER_LEAVING)
    .describe(
      'out: nothing is taken there any more; after-recovery: its sample stays planned, for the water that comes back; another-visit: nobody reached the water, all stays planned',
    ),
  dropped: z.array(dropped).describe('What the plan had there and has no more'),
  owedAnew: z.array(owedAnew).describe('Duplicates and spikes among them: they are owed at another well'),
  sentence: z.string(),
});
export type NotSampledTold = z.output<typeof notSampledShape>;

interface Asking {
  readonly proposal: PlanProposal;
  readonly names: ReadonlyMap<string, string>;
  readonly crews: ReadonlyMap<string, string>;
}

function alike(type: PlannedType): readonly PlannedType[] {
  return DUPLICATES.includes(type) ? DUPLICATES : [type];
}

function anew({ proposal, names }: Asking, { type, number, suites }: ProposedSample): NotSampledTold['owedAnew'] {
  if (!QC_OF_WELLS.includes(type)) return [];
  const { short } = type === 'matrix-spike' ? proposal.spikes : proposal.duplicates;
  const elsewhere = proposal.samples.filter(
    (one) =>
      alike(type).includes(one.type) &&
      one.standing === 'planned' &&
      !one.isTaken &&
      one.suites.some((suite) => suites.includes(suite)),
  );
  const plannedAt = elsewhere.map((one) => {
    const wellName = one.well === null ? null : (names.get(one.well) ?? null);
    return { planned: one.id, number: one.number, well: one.well, wellName };
  });
  return [{ type, number, suites: [...suites], lacking: suites.filter((suite) => short.includes(suite)), plannedAt }];
}

function owedWords({ type, number, suites, lacking, plannedAt }: NotSampledTold['owedAnew'][number]): string {
  const what = `The ${type}${number === null ? '' : ` ${number}`} (${suites.join(', ')}) was planned there`;
  const at = plannedAt.map(({ wellName }) => wellName ?? 'a well that is still to be chosen').join(', ');
  if (lacking.length > 0)
    return `${what}: one of ${lacking.join(', ')} is owed anew, and no further well that is left suits.`;
  return at === '' ? `${what}: those that are taken are enough without it.` : `${what}: it is owed at ${at} now.`;
}

const AFTER: Readonly<Record<LeftWithout['after'], string>> = {
  out: 'nothing is taken there any more',
  'after-recovery': 'its sample stays planned, as the water may come back: drop it where nobody goes there again',
  'another-visit': 'nobody came as far as the water, so that all stays planned for another visit',
};

function gone(list: NotSampledTold['dropped']): string {
  if (list.length === 0) return '';
  const each = list.map(
    ({ type, number, containers }) => `${type}${number === null ? '' : ` ${number}`} (containers: ${containers})`,
  );
  return ` Dropped: ${each.join(', ')}.`;
}

function toldWell(asking: Asking, { well, left }: WellToSample): NotSampledTold[] {
  if (left === null) return [];
  const { id: visit, fields } = left.visit;
  const out = asking.proposal.samples.filter((one) => one.well === well.id && one.standing === 'dropped');
  const list = out.map((one) => ({
    planned: one.id,
    number: one.number,
    type: one.type,
    suites: [...one.suites],
    containers: one.containers.filter(({ standing }) => standing === 'dropped').length,
    because: one.droppedBecause,
  }));
  const owed = out.filter(isMissed).flatMap((one) => anew(asking, one));
  const said = `${well.fields.name} was left without a sample: ${left.said}: ${AFTER[left.after]}.`;
  return [
    {
      well: well.id,
      name: well.fields.name,
      visit,
      crew: fields.crew,
      crewName: asking.crews.get(fields.crew) ?? null,
      outcome: fields.outcome ?? null,
      outcomeReason: fields.outcomeReason ?? null,
      left: fields.left ?? null,
      after: left.after,
      dropped: list,
      owedAnew: owed,
      sentence: [`${said}${gone(list)}`, ...owed.map(owedWords)].join(' '),
    },
  ];
}

/** Every well of the plan that was left without a sample: how, by whom, what it drops, and what QC is owed elsewhere. */
export function notSampledTold(asking: Asking, wells: readonly WellToSample[]): NotSampledTold[] {
  return wells.flatMap((one) => toldWell(asking, one));
}
