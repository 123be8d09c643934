import { z } from 'zod';
import { PLANNED_TYPES } from '../../protocol/kinds/planned-sample.ts';
import { id, instant } from '../../protocol/primitives.ts';
import type { AdoptedSample } from './adopted-samples.ts';
import { bottleOrder, SPARE_RULE } from './bottle-order.ts';
import { COOLER_RULE } from './expected-coolers.ts';
import { frequencyLines, frequencyShape } from './frequencies.ts';
import { notSampledShape, notSampledTold } from './not-sampled.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { PlanProposal } from './propose-plan.ts';
import { CHANGES, type ProposedContainer, type ProposedSample } from './proposed.ts';
import { laboratoryNotes, withoutLaboratory, withoutLaboratoryShape } from './without-laboratory.ts';

const text = z.string().nullable();
const count = z.int().min(0);

export const samplingPlanInput = z.strictObject({});

const containers = z.strictObject({
  group: z.string().describe('Of those that it serves, the one whose clock runs out first'),
  alsoGroups: z.array(z.string()).describe('Further groups that the same bottle serves, where the laboratory agrees'),
  suite: text,
  laboratory: id.nullable().describe('Null where neither suite nor plan names one and the firm has not just one'),
  type: z.enum(['vial', 'bottle']),
  material: text,
  colour: text,
  preservatives: z.array(z.string()).nullable().describe('None: nothing is added. Null: not known'),
  volumeMl: z.string().describe('Of each'),
  standing: z.enum(['expected', 'filled', 'discarded', 'dropped']),
  change: z.enum(CHANGES),
  count,
  labels: z.array(z.string()).describe('None of new ones: they are made of the number, when the plan is written'),
});

const sample = z.strictObject({
  planned: id.describe('Its id, once it is written'),
  number: text.describe('Null of a new one: it is drawn when the plan is written, so that nobody can foresee it'),
  type: z.enum(PLANNED_TYPES),
  well: id.nullable(),
  wellName: text,
  of: id.nullable().describe('The planned sample that it duplicates, spikes or splits'),
  crew: id.nullable(),
  laboratory: id.nullable(),
  suites: z.array(z.string()),
  standing: z.enum(['planned', 'dropped']),
  droppedBecause: text,
  remark: text,
  isTaken: z.boolean().describe('Water of it was taken: it stays as it is'),
  change: z.enum(CHANGES).describe('What writing the plan does to it; taken up is what an earlier plan had dropped'),
  containers: z.array(containers),
});

export const samplingPlanOutput = z.strictObject({
  event: id,
  isWritten: z.boolean().describe('Nothing would change if it were written now'),
  changes: z.strictObject({ samples: count, containers: count }).describe('Records that writing it adds or changes'),
  samples: z.array(sample).describe('Parents before what is of them'),
  adopted: z
    .array(
      z.strictObject({
        sample: id.nullable().describe('Null of a blank'),
        blank: id.nullable(),
        type: z.enum(PLANNED_TYPES),
        number: z.string(),
        well: id.nullable(),
        wellName: text,
        crew: id.nullable(),
        collected: instant,
        suites: z.array(z.string()),
        containers: z.array(containers).describe('Of the sample; none where none is recorded'),
      }),
    )
    .describe(
      'Samples of wells of the plan that crews took without it: they count, and nothing is planned beside them',
    ),
  notSampled: z.array(notSampledShape).describe('Wells that were left without a sample'),
  withoutLaboratory: z
    .array(withoutLaboratoryShape)
    .describe('Suites of which nobody says where their containers go; the bottle order has them under no laboratory'),
  frequencies: z.array(frequencyShape).describe('How many QC samples are asked for and planned, each with its source'),
  coolers: z.array(
    z.strictObject({
      laboratory: id.nullable(),
      laboratoryName: text,
      days: count.describe('Of work'),
      coolers: count,
      withTripBlank: count,
      volumeMl: count.describe('Of water, to the next whole millilitre'),
    }),
  ),
  coolerRule: z.string(),
  bottleOrder: z.array(
    z.strictObject({
      laboratory: id.nullable(),
      laboratoryName: text,
      type: z.enum(['vial', 'bottle']),
      material: text,
      colour: text,
      preservatives: z.array(z.string()).nullable(),
      volumeMl: z.string(),
      groups: z.array(z.string()),
      count: count.describe('All that are planned, filled ones too'),
      filled: count,
      spare: count.describe('On top of the count'),
    }),
  ),
  spareRule: z.string(),
  problems: z.array(z.string()).describe('While there are any, the plan is not written'),
  notes: z.array(z.string()),
});
export type SamplingPlanTold = z.output<typeof samplingPlanOutput>;

type ToldContainers = SamplingPlanTold['samples'][number]['containers'][number];

/** Containers that are alike are told once. */
function toldContainers(list: readonly ProposedContainer[]): ToldContainers[] {
  const lines = new Map<string, ToldContainers>();
  for (const { id: _id, rev: _rev, set: _set, label, ...like } of list) {
    const key = JSON.stringify(like);
    const line = lines.get(key);
    if (!line) {
      const { alsoGroups, preservatives } = like;
      const own = { alsoGroups: [...alsoGroups], preservatives: preservatives === null ? null : [...preservatives] };
      lines.set(key, { ...like, ...own, count: 1, labels: label === null ? [] : [label] });
    } else {
      line.count += 1;
      if (label !== null) line.labels.push(label);
    }
  }
  return [...lines.values()];
}

function toldSample(one: ProposedSample, wellName: (well: string | null) => string | null) {
  const { id: planned, rev: _rev, set: _set, isOfPerson: _hand, containers: list, suites, ...rest } = one;
  return {
    planned,
    ...rest,
    suites: [...suites],
    wellName: wellName(one.well),
    containers: toldContainers(list),
  };
}

function toldAdopted({ record, sample: its }: AdoptedSample, names: ReadonlyMap<string, string>) {
  const { number, collected } = record.fields;
  const { well, type, crew } = its;
  const isBlank = type.endsWith('-blank');
  const of = { sample: isBlank ? null : record.id, blank: isBlank ? record.id : null, type };
  const told = { ...of, number, well, wellName: names.get(well ?? '') ?? null, crew, collected };
  return { ...told, suites: [...its.suites], containers: toldContainers(its.containers) };
}

function changed(list: readonly { readonly set: unknown }[]): number {
  return list.filter(({ set }) => set !== null).length;
}

/** A proposal as it is told to whoever asks. */
export function samplingPlanTold(proposal: PlanProposal, facts: PlanningFacts): SamplingPlanTold {
  const { samples, coolers, book, problems, notes, event } = proposal;
  const names = new Map(facts.samples.wells.map(({ id: well, fields }) => [well, fields.name]));
  const lost = withoutLaboratory(proposal);
  const crews = new Map(facts.samples.crews.map(({ id: crew, fields }) => [crew, fields.name]));
  const laboratoryName = (one: string | null) => (one === null ? null : (book.laboratories.get(one) ?? null));
  const changes = { samples: changed(samples), containers: changed(samples.flatMap((one) => one.containers)) };
  return {
    event,
    isWritten: changes.samples + changes.containers === 0,
    changes,
    samples: samples.map((one) => toldSample(one, (well) => (well === null ? null : (names.get(well) ?? null)))),
    adopted: proposal.adopted.map((one) => toldAdopted(one, names)),
    notSampled: notSampledTold({ proposal, names, crews }, proposal.wells),
    withoutLaboratory: lost.map((one) => ({ ...one, groups: [...one.groups] })),
    frequencies: frequencyLines(proposal, facts),
    coolers: coolers.map((one) => ({ ...one, laboratoryName: laboratoryName(one.laboratory) })),
    coolerRule: COOLER_RULE,
    bottleOrder: bottleOrder([...samples, ...proposal.adopted.map(({ sample: one }) => one)]).map((line) => ({
      ...line,
      preservatives: line.preservatives === null ? null : [...line.preservatives],
      groups: [...line.groups],
      laboratoryName: laboratoryName(line.laboratory),
    })),
    spareRule: SPARE_RULE,
    problems: [...problems],
    notes: [...notes, ...laboratoryNotes(lost, book)],
  };
}
