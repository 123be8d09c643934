import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledForNothing: SampleRule = {
  code: 'filled-for-nothing',
  title: 'A container is filled, and of which sample or blank is not said',
  severity: 'question',
  addressee: 'tonight',
  source:
    'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-27: the sampling point of each container is recorded',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const { sample, blank, label } = one.container.fields;
      if (!one.isFull || (sample === undefined) !== (blank === undefined)) return [];
      const sentence =
        sample === undefined
          ? `${label} is filled, and its record names neither a sample nor a blank. Say whose water is in it before it is packed.`
          : `${label} is said to be of a sample and of a blank. Say which.`;
      return aboutContainer(one, sentence, [
        fieldEvidence(one.container, 'sample'),
        fieldEvidence(one.container, 'blank'),
      ]);
    });
  },
  vectors: [
    {
      name: 'of neither',
      given: { visit: null, containers: [{}] },
      expect: 'raised',
      says: 'neither a sample nor a blank',
    },
    {
      name: 'of both',
      given: { containers: [{ blank: '00000000-0000-7000-8000-0000000000bb' }] },
      expect: 'raised',
      says: 'of a sample and of a blank',
    },
    {
      name: 'of a blank',
      given: { visit: null, containers: [{ blank: '00000000-0000-7000-8000-0000000000bb' }] },
      expect: 'silent',
    },
    { name: 'of a sample', given: {}, expect: 'silent' },
    {
      name: 'not filled yet',
      given: { visit: null, containers: [{ standing: 'expected', fill: null }] },
      expect: 'silent',
    },
  ],
};
