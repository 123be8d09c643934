import { z } from 'zod';
import { CONTAMINANT_CLASSES, DECON_PROTOCOL_IDS } from '../../catalog/decon/decon-protocol.ts';
import { UNIT_SHARING } from '../../protocol/kinds/unit.ts';
import { UNIT_STATES } from '../../protocol/kinds/unit-state.ts';
import { text } from '../../protocol/primitives.ts';
import { unitWritten } from '../decon/decon-unit.ts';
import { DECON_EFFORTS } from '../decon/effort.ts';
import { DECON_UNIT_TYPES } from '../decon/gear-of-unit.ts';
import { mayGoDown } from '../decon/may-go-down.ts';
import { planDecon } from '../decon/plan-decon.ts';
import { answered, DEFERS } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Each protocol, each step and each rule names its own source in the answer',
  'Effort by kind of unit: common practice, no source',
];

const unitInput = z.strictObject({
  type: z.enum(DECON_UNIT_TYPES).describe('Hand gear is what has no serial, such as a bailer'),
  label: text(64).optional().describe('As painted on it'),
  use: z.enum(UNIT_SHARING).describe('Whose it is'),
  dedicatedTo: text(64).optional().describe('Name of the well'),
  keptInItsWell: z.boolean().optional().describe('Of dedicated gear: false where it is kept elsewhere'),
  wettedParts: z
    .array(z.strictObject({ part: text(64).describe('Which part'), material: text(64).describe('Of what') }))
    .max(40)
    .optional()
    .describe('What touches the water'),
});

const input = z
  .strictObject({
    unit: unitInput.describe('What is to be cleaned'),
    state: z.enum(UNIT_STATES).optional().describe('Of the unit, as its records say. Default: unknown'),
    wellLeft: text(64).optional().describe('Name of the well that it comes from'),
    contaminantsLeft: z
      .array(z.enum(CONTAMINANT_CLASSES))
      .max(CONTAMINANT_CLASSES.length)
      .optional()
      .describe('What that well holds; missing: not known, an empty list: none'),
    wellNext: text(64).optional().describe('Name of the well that it goes to'),
    suitesNext: z.array(text(64)).max(20).optional().describe('What is sampled there'),
    planned: z
      .array(z.enum(DECON_PROTOCOL_IDS))
      .max(DECON_PROTOCOL_IDS.length)
      .optional()
      .describe('Protocols that the plan of the event names'),
    acetoneIsAnalyte: z.boolean().optional().describe('Whether acetone is asked for in the samples. Default: no'),
    isFreezing: z.boolean().optional().describe('Whether it freezes where the gear is cleaned. Default: no'),
  })
  .meta({
    examples: [
      {
        unit: {
          type: 'bladder-pump',
          label: 'Pump P2',
          use: 'shared',
          wettedParts: [
            { part: 'housing', material: 'stainless steel 316' },
            { part: 'bladder', material: 'polyethylene' },
          ],
        },
        state: 'used',
        wellLeft: 'MW-3',
        contaminantsLeft: ['organics'],
        wellNext: 'MW-5',
        suitesNext: ['VOC', 'PFAS'],
      },
      { unit: { type: 'water-level-tape', use: 'shared' }, contaminantsLeft: ['inorganics'], suitesNext: ['metals'] },
    ],
  });

const advice = z.strictObject({
  protocol: z.enum(DECON_PROTOCOL_IDS).describe('Of the catalog, section decon-protocols'),
  title: z.string().describe('In words of the trade'),
  standing: z
    .enum(['advised', 'would-do', 'in-part', 'does-not-suit'])
    .describe('What is advised comes first, in the order in which it is carried out'),
  covers: z.array(z.enum(CONTAMINANT_CLASSES)).describe('Of what is asked for'),
  leaves: z.array(z.enum(CONTAMINANT_CLASSES)).describe('Against what it does not serve'),
  reasons: z.array(z.string()).describe('What speaks for and against it'),
  source: z.string().describe('The document'),
  verified: z.boolean().describe('Whether every step was read in its document'),
});

const stepToDo = z.strictObject({
  protocol: z.enum(DECON_PROTOCOL_IDS).describe('Of which it is a step'),
  step: z.string().describe('By which a record cites it'),
  action: z.string().describe('What to do'),
  fluids: z.array(z.string()).describe('Any one of these; none where none is needed'),
  strength: z.string().nullable().describe('Of the fluid'),
  times: z.int().describe('How often at least'),
  when: z.string().nullable().describe('Only where this is so; null: always'),
  isWasteToDrum: z.boolean().describe('Whether it leaves water that goes into a drum'),
  newPart: z.string().nullable().describe('The soft part that is replaced'),
  cautions: z.array(z.string()).describe('What to mind'),
  source: z.string().describe('Where the step stands'),
  verified: z.boolean().describe('Whether it was read there'),
});

export const deconProtocol = defineQuestion({
  name: 'decon-protocol',
  title: 'How is this unit cleaned between these two wells?',
  description:
    'Effort by what the unit is and whose it is; protocols with what speaks for and against each; the steps in order, with fluids, new parts and waste; and whether the unit may go into the next well now. It answers a plan: a unit that goes in nevertheless is recorded, kept and flagged.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    effort: z.enum(DECON_EFFORTS).nullable().describe('How much cleaning it needs'),
    classes: z.array(z.enum(CONTAMINANT_CLASSES)).describe('What it must be clean of'),
    protocols: z.array(advice).describe('What is advised first'),
    steps: z.array(stepToDo).describe('Of what is advised, in order'),
    mayGoDown: z.enum(['yes', 'no', 'cannot-tell']).nullable().describe('Into the next well, as it is now'),
    mayGoDownBecause: z.string().nullable().describe('In a sentence'),
    isRinsateProposed: z.boolean().nullable().describe('Whether a blank through it is proposed'),
    notKnown: z.array(z.string()).describe('What is not known, and what was taken for it'),
    ...answerFields,
  }),
  answer(given) {
    const left = { well: given.wellLeft, contaminants: given.contaminantsLeft };
    const next = { well: given.wellNext, suites: given.suitesNext };
    const { unit, planned, acetoneIsAnalyte, isFreezing } = given;
    const plan = planDecon({ unit, left, next, planned, acetoneIsAnalyte, isFreezing });
    const down = mayGoDown({
      unit: unitWritten(unit),
      state: given.state ?? 'unknown',
      wellLeft: given.wellLeft,
      wellNext: given.wellNext,
      isNothingOwed: plan.effort === 'none',
      isNeverMoved: plan.effort === 'replace',
    });
    const because = plan.rinsateBecause === null ? [] : [plan.rinsateBecause];
    return {
      effort: plan.effort,
      classes: [...plan.classes],
      protocols: plan.protocols.map((one) => ({
        ...one,
        covers: [...one.covers],
        leaves: [...one.leaves],
        reasons: [...one.reasons],
      })),
      steps: plan.steps.map((one) => ({ ...one, fluids: [...one.fluids], cautions: [...one.cautions] })),
      mayGoDown: down.answer,
      mayGoDownBecause: down.sentence,
      isRinsateProposed: down.isRinsateProposed || plan.rinsateBecause !== null,
      notKnown: [...plan.notKnown],
      ...answered([...plan.reasons, ...because], [...plan.sources, ...SOURCES], [...plan.cautions, DEFERS]),
    };
  },
});
