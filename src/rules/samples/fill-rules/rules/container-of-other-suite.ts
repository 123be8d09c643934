import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const containerOfOtherSuite: SampleRule = {
  code: 'container-of-other-suite',
  title: 'A container is for a suite that its sample is not taken for',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: what is asked of the laboratory stands with the sample and on its containers',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const { suite, label } = one.container.fields;
      if (!one.isFull || one.sample === null || suite === undefined) return [];
      const { number, suites } = one.sample.fields;
      if (suites.includes(suite)) return [];
      return aboutContainer(
        one,
        `${label} is for ${suite}; sample ${number} is taken for ${listText(suites)}. Say of which sample it is, or add the suite to the sample.`,
        [fieldEvidence(one.container, 'suite'), fieldEvidence(one.sample, 'suites')],
      );
    });
  },
  vectors: [
    {
      name: 'metals for a sample of VOC',
      given: { containers: [{ suite: 'Metals' }] },
      expect: 'raised',
      says: 'is for Metals; sample W-101 is taken for VOC',
    },
    {
      name: 'one of its suites',
      given: { samples: [{ suites: ['VOC', 'Metals'] }], containers: [{ suite: 'Metals' }] },
      expect: 'silent',
    },
    { name: 'no suite said', given: { containers: [{ suite: undefined }] }, expect: 'silent' },
  ],
};
