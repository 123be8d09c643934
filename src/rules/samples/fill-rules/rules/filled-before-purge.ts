import { instantMs } from '../../../../science/instant-ms.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { timed, timedFill } from '../fill-times.ts';
import { aboutSample, fillEvidence, filled, labelsAtTimes, perSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledBeforePurge: SampleRule = {
  code: 'filled-before-purge',
  title: 'A container was filled before its purge began',
  severity: 'question',
  addressee: 'now',
  source: 'Arithmetic of the records: the water of a purged sample is drawn after the purge began',
  verified: true,
  methods: ['low-flow', 'volume'],
  evaluate(facts) {
    const first = facts.purges.toSorted((a, b) => instantMs(a.fields.began) - instantMs(b.fields.began))[0];
    if (first === undefined) return [];
    const began = timed(first, first.fields.began);
    return perSample(
      filled(facts).filter(({ fill }) => surelyBefore(timedFill(fill), began)),
      (sample, its) =>
        aboutSample(
          sample,
          `By the clocks filled before the purge began at ${timeOfDay(first.fields.began)}: ${labelsAtTimes(its)}. Correct the time that is wrong, or fill them again.`,
          [...its.map(({ fill }) => fillEvidence(fill)), fieldEvidence(first, 'began')],
        ),
    );
  },
  vectors: [
    {
      name: 'a quarter of an hour before',
      given: { containers: [{ at: '09:45' }] },
      expect: 'raised',
      says: 'before the purge began at 10:00: W-101-1 (09:45)',
    },
    { name: 'in the first minute', given: { containers: [{ at: '10:00' }] }, expect: 'silent' },
    { name: 'after it', given: {}, expect: 'silent' },
    { name: 'no purge on record', given: { purges: [], containers: [{ at: '09:45' }] }, expect: 'silent' },
    {
      name: 'a passive sampler',
      given: { visit: { method: 'passive' }, containers: [{ at: '09:45' }] },
      expect: 'silent',
    },
  ],
};
