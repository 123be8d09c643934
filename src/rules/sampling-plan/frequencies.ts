import { z } from 'zod';
import { PLANNED_TYPES } from '../../protocol/kinds/planned-sample.ts';
import { DUPLICATE_RULE, ruleNamed, SPIKE_RULE } from './default-rules.ts';
import type { PlanningFacts } from './planning-facts.ts';
import type { PlanProposal } from './propose-plan.ts';
import type { PlannedType } from './proposed.ts';
import type { WellQc } from './qc-samples.ts';

const count = z.int().min(0);

export const frequencyShape = z.strictObject({
  type: z.enum(PLANNED_TYPES),
  suite: z.string().nullable().describe('Duplicates and spikes are counted for each suite'),
  samples: count.nullable().describe('Normal samples of the suite, by which they are counted'),
  asked: count,
  planned: count,
  rule: z.string().describe('In words'),
  source: z.string(),
});
export type Frequency = z.output<typeof frequencyShape>;

const OF_PLAN = 'the plan of the event';

interface Said {
  readonly rule: string;
  readonly source: string;
}

function saidOf(id: string): Said {
  const { wording, source } = ruleNamed(id);
  return { rule: wording, source };
}

/** How duplicates and spikes are counted: by the plan, or by the rule of the catalog. */
export function perSamples(what: string, ofPlan: number | null | undefined, rule: string): Said {
  return ofPlan == null
    ? saidOf(rule)
    : { rule: `${what} for each ${ofPlan} samples or part of them.`, source: OF_PLAN };
}

/** By which rule blanks of a type are planned. */
export function blankRule(type: PlannedType, { samples }: PlanningFacts): Said {
  const { sampling, equipment } = samples.event.fields.plan;
  if (type === 'equipment-blank') {
    if (equipment?.rinsatePer === 'unit-and-day') return saidOf('equipment-blank-each-day');
    return { rule: 'The plan of the event asks for no equipment blank (rinsatePer).', source: OF_PLAN };
  }
  if (type === 'field-blank') {
    const per = sampling?.fieldBlanksPer;
    if (per === 'none') return { rule: 'No field blank.', source: OF_PLAN };
    if (per != null) return { rule: `A field blank for each ${per}.`, source: OF_PLAN };
    const [volatile, pfas] = [saidOf('field-blank-volatiles-each-day'), saidOf('field-blank-pfas-each-site')];
    return { rule: `${volatile.rule} ${pfas.rule}`, source: `${volatile.source}; ${pfas.source}` };
  }
  if (type === 'trip-blank') return saidOf('trip-blank-volatiles-each-cooler');
  if (sampling?.temperatureBlankPerCooler === false) return { rule: 'No temperature blank.', source: OF_PLAN };
  return saidOf('temperature-blank-each-cooler');
}

function bySuite(
  proposal: PlanProposal,
  { samples: its, asked }: WellQc,
  said: Said,
  type: PlannedType,
): readonly Frequency[] {
  const all = [...proposal.samples, ...proposal.adopted.map(({ sample }) => sample)];
  const normals = all.filter((one) => one.type === 'normal' && one.standing === 'planned');
  const ofSuite = (list: PlanProposal['samples'], suite: string) =>
    list.filter(({ standing, suites }) => standing === 'planned' && suites.includes(suite)).length;
  return [...asked]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([suite, many]) => {
      return { type, suite, samples: ofSuite(normals, suite), asked: many, planned: ofSuite(its, suite), ...said };
    });
}

const BLANKS: readonly PlannedType[] = ['equipment-blank', 'field-blank', 'trip-blank', 'temperature-blank'];

/** How many QC samples of each type are asked for and planned, with the rule and its source. */
export function frequencyLines(proposal: PlanProposal, facts: PlanningFacts): Frequency[] {
  const plan = facts.samples.event.fields.plan.sampling;
  const blind = plan?.blindDuplicates ?? true;
  return [
    ...bySuite(
      proposal,
      proposal.duplicates,
      perSamples('A field duplicate', plan?.duplicatesPer, DUPLICATE_RULE),
      blind ? 'blind-duplicate' : 'duplicate',
    ),
    ...bySuite(
      proposal,
      proposal.spikes,
      perSamples('A matrix spike and its duplicate', plan?.msMsdPer, SPIKE_RULE),
      'matrix-spike',
    ),
    ...BLANKS.map((type): Frequency => {
      const its = proposal.samples.filter((one) => one.type === type && one.standing === 'planned');
      const planned = its.length + (proposal.blanksDone.get(type) ?? 0);
      const asked = proposal.blanksAsked.get(type) ?? 0;
      return { type, suite: null, samples: null, asked, planned, ...blankRule(type, facts) };
    }),
  ];
}
