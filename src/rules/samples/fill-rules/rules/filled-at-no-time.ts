import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledAtNoTime: SampleRule = {
  code: 'filled-at-no-time',
  title: 'A container is said to be filled, and when is not recorded',
  severity: 'question',
  addressee: 'tonight',
  source: `${PUBLICATIONS.tableIIRecalled.source}: holding times run from collection`,
  verified: false,
  methods: null,
  evaluate(facts) {
    return facts.containers
      .filter(({ container, fill }) => container.fields.standing === 'filled' && fill === null)
      .map((one) =>
        aboutContainer(
          one,
          `${one.container.fields.label} is filled, and no fill says when: none of its clocks can run. Record the fill with the time on the label.`,
          [fieldEvidence(one.container, 'standing')],
        ),
      );
  },
  vectors: [
    { name: 'no fill', given: { containers: [{ fill: null }] }, expect: 'raised', says: 'no fill says when' },
    { name: 'with its fill', given: {}, expect: 'silent' },
    { name: 'still expected', given: { containers: [{ standing: 'expected', fill: null }] }, expect: 'silent' },
  ],
};
