import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { timed, timedSample } from '../fill-times.ts';
import { aboutSample, filled, labelsText, perSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledBeforeSample: SampleRule = {
  code: 'filled-before-sample',
  title: 'A container was collected before its sample is said to begin',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: a sample is collected when its first bottle is',
  verified: true,
  methods: null,
  evaluate(facts) {
    const early = filled(facts).filter(
      ({ sample, fill }) => sample !== null && surelyBefore(timed(fill, fill.fields.collected), timedSample(sample)),
    );
    return perSample(early, (sample, its) =>
      aboutSample(
        sample,
        `${sample.fields.number} is collected at ${timeOfDay(sample.fields.collected)}, and earlier than that: ${labelsText(its)}. Correct the time that is wrong; clocks run from it.`,
        [...its.map(({ fill }) => fieldEvidence(fill, 'collected')), fieldEvidence(sample, 'collected')],
      ),
    );
  },
  vectors: [
    {
      name: 'a vial before it',
      given: { containers: [{ at: '10:31' }, {}] },
      expect: 'raised',
      says: 'earlier than that: W-101-1',
    },
    { name: 'at the same minute', given: {}, expect: 'silent' },
    { name: 'after it', given: { containers: [{}, { at: '10:50' }] }, expect: 'silent' },
  ],
};
