import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { becausePlan, isDroppedByPlan } from '../../../sampling-plan/plan-reasons.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const { source, verified } = SAMPLING_RULES.whenShort;

export const droppedWithoutAgreement: SampleRule = {
  code: 'dropped-without-agreement',
  title: 'A container was dropped, and why or who agreed is not said',
  severity: 'question',
  addressee: 'tonight',
  source,
  verified,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const { standing, droppedBecause, agreedBy, label } = one.container.fields;
      if (standing !== 'dropped' || (droppedBecause !== undefined && agreedBy !== undefined)) return [];
      // whoever changed the plan ordered it: nobody else has to agree
      if (isDroppedByPlan(droppedBecause)) return [];
      const missing =
        droppedBecause === undefined ? (agreedBy === undefined ? 'why and who agreed' : 'why') : 'who agreed';
      return aboutContainer(
        one,
        `${label} is dropped, and its record does not say ${missing}. Say it: the analyses that are left out are decided by whoever ordered them.`,
        [
          fieldEvidence(one.container, 'standing'),
          fieldEvidence(one.container, 'droppedBecause'),
          fieldEvidence(one.container, 'agreedBy'),
        ],
      );
    });
  },
  vectors: [
    {
      name: 'neither is said',
      given: { containers: [{ standing: 'dropped', fill: null }] },
      expect: 'raised',
      says: 'why and who agreed',
    },
    {
      name: 'only why',
      given: { containers: [{ standing: 'dropped', fill: null, droppedBecause: 'Well went dry' }] },
      expect: 'raised',
      says: 'not say who agreed',
    },
    {
      name: 'only who',
      given: { containers: [{ standing: 'dropped', fill: null, agreedBy: 'R. Ito' }] },
      expect: 'raised',
      says: 'not say why',
    },
    {
      name: 'both',
      given: { containers: [{ standing: 'dropped', fill: null, droppedBecause: 'Well went dry', agreedBy: 'R. Ito' }] },
      expect: 'silent',
    },
    {
      name: 'by a change of the plan',
      given: {
        containers: [{ standing: 'dropped', fill: null, droppedBecause: becausePlan('no suite asks for it any more') }],
      },
      expect: 'silent',
    },
    { name: 'filled', given: {}, expect: 'silent' },
    {
      name: 'of a blank, at no visit',
      given: { visit: null, containers: [{ standing: 'dropped', fill: null }] },
      expect: 'raised',
    },
  ],
};
