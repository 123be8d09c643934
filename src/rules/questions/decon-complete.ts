import { z } from 'zod';
import { CONTAMINANT_CLASSES } from '../../catalog/decon/decon-protocol.ts';
import { deconProtocol } from '../../catalog/decon/decon-protocols.ts';
import { PART_ACTIONS } from '../../protocol/kinds/part-change.ts';
import { instant, text } from '../../protocol/primitives.ts';
import { refuse } from '../../science/refusal.ts';
import { DECON_STANDINGS, deconCompleteness } from '../decon/completeness.ts';
import { DECON_FINDING_TOPICS } from '../decon/finding.ts';
import { DECON_UNIT_TYPES } from '../decon/gear-of-unit.ts';
import { labelText } from '../decon/label-text.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'The protocol cited names its own source',
  'A deviation is allowed and recorded with why: US EPA Region 4, LSASDPROC-205-R4, 22 Jun 2020, p. 1, read in a copy',
  'Label with procedure and date: US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a copy',
];

const step = z.strictObject({
  step: text(64).describe('Id of the step in the protocol'),
  done: z.boolean().describe('False: left out'),
  at: instant.describe('When, with offset'),
  fluid: text(200).optional().describe('What it was done with'),
  lot: text(64).optional().describe('Of the fluid or part'),
  reason: text(200).optional().describe('Why it was left out or done otherwise'),
  part: text(64).optional().describe('Id of the new part that was put in'),
});

const part = z.strictObject({
  id: text(64).describe('By which steps and changes name it'),
  type: text(64).describe('Such as bladder or tubing'),
  label: text(64).optional().describe('As marked'),
  lot: text(64).optional().describe('Of the maker'),
});

const change = z.strictObject({
  part: text(64).describe('Id of the part'),
  action: z.enum(PART_ACTIONS).describe('What was done with it'),
  at: instant.describe('When, with offset'),
  well: text(64).optional().describe('For which it is kept or put in'),
});

const input = z
  .strictObject({
    unit: text(64).describe('As painted on it'),
    unitType: z.enum(DECON_UNIT_TYPES).describe('Which steps concern it'),
    protocol: text(64).describe('Of the catalog, section decon-protocols'),
    against: z
      .array(z.enum(CONTAMINANT_CLASSES))
      .max(CONTAMINANT_CLASSES.length)
      .optional()
      .describe('What it was for'),
    began: instant.describe('With offset'),
    ended: instant.optional().describe('With offset; missing: not ended'),
    wasteTo: text(200).optional().describe('Label of the drum'),
    steps: z.array(step).max(200).describe('In any order'),
    parts: z.array(part).max(100).optional().describe('Soft parts that are named'),
    partChanges: z.array(change).max(500).optional().describe('Of this unit, the earlier ones as well'),
    nextUse: instant.optional().describe('When it went into its next well; new parts may be put in until then'),
    lotsRequired: z
      .array(text(64))
      .max(20)
      .optional()
      .describe('Types of parts whose lots the plan asks for; or fluid'),
  })
  .meta({
    examples: [
      {
        unit: 'Tape T1',
        unitType: 'water-level-tape',
        protocol: 'tape-wipe-down',
        began: '2026-05-04T10:05:00-05:00',
        ended: '2026-05-04T10:09:00-05:00',
        steps: [
          { step: 'bag', done: true, at: '2026-05-04T10:09:00-05:00' },
          { step: 'wipe-tape', done: true, at: '2026-05-04T10:06:00-05:00', fluid: 'deionized water' },
          { step: 'rinse-probe', done: true, at: '2026-05-04T10:08:00-05:00', fluid: 'deionized water' },
        ],
      },
      {
        unit: 'Pump P2',
        unitType: 'bladder-pump',
        protocol: 'bladder-pump-new-parts',
        began: '2026-05-04T10:05:00-05:00',
        ended: '2026-05-04T10:30:00-05:00',
        wasteTo: 'Drum 1',
        steps: [{ step: 'take-apart', done: true, at: '2026-05-04T10:06:00-05:00' }],
      },
    ],
  });

type Given = z.output<typeof input>;

const THIS = 'this decontamination';

function judged(given: Given) {
  const { unit, unitType, nextUse, lotsRequired, parts, steps, partChanges, ...decon } = given;
  return deconCompleteness({
    decon: { ...decon, id: THIS, unit },
    unitType,
    steps: steps.map(({ at, ...one }, index) => ({ ...one, id: String(index), decon: THIS, observed: { at } })),
    parts,
    partChanges: partChanges?.map(({ at, ...one }, index) => ({ ...one, id: String(index), unit, observed: { at } })),
    nextUse,
    lotsRequired,
  });
}

/** What the label says; nothing as long as the cleaning is not complete. */
function labelOf(given: Given, { standing, findings }: ReturnType<typeof judged>): string[] {
  const protocol = deconProtocol(given.protocol);
  const isDone = standing === 'complete' || standing === 'complete-with-deviation';
  if (!isDone || protocol === undefined || given.ended === undefined) return [];
  const deviations = findings.map(({ sentence }) => sentence);
  return [...labelText({ unit: given.unit, protocol, ended: given.ended, deviations }).lines];
}

export const deconComplete = defineQuestion({
  name: 'decon-complete',
  title: 'Is this decontamination complete by its protocol?',
  description:
    'Judges the steps as recorded: done, in order, left out with or without a reason, fluids and lots named, soft parts replaced by new ones, water into a drum. The order in which they are given makes no difference. A deviation with a reason is kept and said. Whether the unit is clean is said apart from whether the record is complete.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    standing: z.enum(DECON_STANDINGS).nullable().describe('Of the record'),
    isClean: z.boolean().nullable().describe('Whether the unit is clean by it'),
    findings: z
      .array(
        z.strictObject({
          topic: z.enum(DECON_FINDING_TOPICS).describe('What it is about'),
          step: z.string().nullable().describe('Of the protocol; null: of the whole'),
          concerns: z
            .enum(['cleaning', 'record'])
            .describe('Whether it puts the cleaning in question, or only what is written'),
          isDeviation: z.boolean().describe('Done otherwise for a reason'),
          sentence: z.string().describe('In words'),
        }),
      )
      .describe('What is missing or otherwise'),
    notServed: z.array(z.enum(CONTAMINANT_CLASSES)).describe('Against what the protocol does not serve'),
    label: z.array(z.string()).describe('Line by line; empty as long as it is not complete'),
    ...answerFields,
  }),
  answer(given) {
    const result = judged(given);
    const { standing, isClean, findings, notServed, sentence, cautions } = result;
    const told = { standing, findings: findings.map((one) => ({ ...one })), notServed: [...notServed] };
    if (standing === 'cannot-tell')
      return { ...told, isClean: null, label: [], ...unanswered(refuse(sentence), SOURCES) };
    const source = deconProtocol(given.protocol)?.source;
    const reasons = [sentence, ...findings.map((one) => one.sentence)];
    return {
      ...told,
      isClean,
      label: labelOf(given, result),
      ...answered(reasons, source ? [source, ...SOURCES] : SOURCES, cautions),
    };
  },
});
