import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const headspaceNotLeft: SampleRule = {
  code: 'headspace-not-left',
  title: 'A container that needs air was filled too full',
  severity: 'question',
  addressee: 'now',
  source: `EPA Methods 331.0, 332.0 and SW-846 6850: a third is left empty, from memory; filling: ${PUBLICATIONS.commonPractice.source}`,
  verified: false,
  methods: null,
  evaluate(facts) {
    return filled(facts).flatMap((one) => {
      const water = one.fill.fields.volumeMl;
      const takes = Number(one.container.fields.volumeMl);
      const asked = one.served.find(({ headspace }) => headspace === 'leave-a-third');
      if (!asked || water === undefined || Number(water) * 3 <= takes * 2) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label} holds ${water} of ${takes} mL; for ${asked.group.title} a third is left empty. Fill a new one to two thirds.`,
        [fieldEvidence(one.fill, 'volumeMl'), fieldEvidence(one.container, 'volumeMl')],
      );
    });
  },
  vectors: [
    {
      name: 'perchlorate, full',
      given: {
        containers: [{ group: 'perchlorate-low-level', type: 'bottle', volumeMl: '125', fill: { volumeMl: '125' } }],
      },
      expect: 'raised',
      says: '125 of 125 mL',
    },
    {
      name: 'to two thirds',
      given: {
        containers: [{ group: 'perchlorate-low-level', type: 'bottle', volumeMl: '126', fill: { volumeMl: '84' } }],
      },
      expect: 'silent',
    },
    {
      name: 'nobody said',
      given: { containers: [{ group: 'perchlorate-low-level', type: 'bottle', volumeMl: '125' }] },
      expect: 'silent',
    },
    {
      name: 'in a bottle for chloride too',
      given: {
        containers: [
          {
            ...{ group: 'chloride', alsoGroups: ['perchlorate-low-level'], type: 'bottle', volumeMl: '125' },
            fill: { volumeMl: '125' },
          },
        ],
      },
      expect: 'raised',
    },
    { name: 'a vial for volatiles', given: { containers: [{ fill: { volumeMl: '40' } }] }, expect: 'silent' },
  ],
};
