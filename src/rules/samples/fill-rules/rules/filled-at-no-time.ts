import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import type { ContainerRecord } from '../../sample-records.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** A blank says itself when it was collected: bottles of trip and temperature blanks come filled. */
function hasTime({ fields }: ContainerRecord): boolean {
  return fields.blank !== undefined && fields.sample === undefined;
}

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
      .filter(({ container, fill }) => container.fields.standing === 'filled' && fill === null && !hasTime(container))
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
    {
      name: 'of a blank, which has a time of its own',
      given: { visit: null, containers: [{ blank: '00000000-0000-7000-8000-0000000000bb', fill: null }] },
      expect: 'silent',
    },
    { name: 'of nothing yet', given: { visit: null, containers: [{ fill: null }] }, expect: 'raised' },
    { name: 'with its fill', given: {}, expect: 'silent' },
    { name: 'still expected', given: { containers: [{ standing: 'expected', fill: null }] }, expect: 'silent' },
  ],
};
