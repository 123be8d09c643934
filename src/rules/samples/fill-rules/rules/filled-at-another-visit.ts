import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledAtAnotherVisit: SampleRule = {
  code: 'filled-at-another-visit',
  title: 'A container was filled at another visit than its sample is of',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: a sample and its containers are of one visit',
  verified: true,
  methods: null,
  evaluate(facts) {
    return filled(facts).flatMap((one) => {
      const { visit } = one.fill.fields;
      if (one.sample === null || visit === undefined || visit === one.sample.fields.visit) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label} is of sample ${one.sample.fields.number}, and was filled at another visit. Say of which sample it is, or at which visit it was filled.`,
        [fieldEvidence(one.fill, 'visit'), fieldEvidence(one.container, 'sample')],
      );
    });
  },
  vectors: [
    {
      name: 'another visit',
      given: { containers: [{ fill: { visit: '00000000-0000-7000-8000-0000000000aa' } }] },
      expect: 'raised',
      says: 'filled at another visit',
    },
    { name: 'the visit of the sample', given: {}, expect: 'silent' },
    { name: 'nobody said', given: { containers: [{ fill: { visit: undefined } }] }, expect: 'silent' },
  ],
};
