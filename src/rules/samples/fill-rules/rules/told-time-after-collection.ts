import { instantMs } from '../../../../science/instant-ms.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { aboutSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const toldTimeAfterCollection: SampleRule = {
  code: 'told-time-after-collection',
  title: 'The laboratory is told a later time than that of the collection',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: a laboratory counts a holding time from the time on the label',
  verified: true,
  methods: null,
  evaluate({ samples }) {
    return samples.flatMap((sample) => {
      const { number, collected, laboratoryTime } = sample.fields;
      if (laboratoryTime == null || instantMs(laboratoryTime) <= instantMs(collected)) return [];
      return aboutSample(
        sample,
        `The laboratory is told ${timeOfDay(laboratoryTime)} for ${number}, which was collected earlier, at ${timeOfDay(collected)}: it would count each holding time from too late. Tell it a time that is not later.`,
        [fieldEvidence(sample, 'laboratoryTime'), fieldEvidence(sample, 'collected')],
      );
    });
  },
  vectors: [
    {
      name: 'later than collected',
      given: { samples: [{ laboratoryTime: '2026-05-04T14:00:00-05:00' }] },
      expect: 'raised',
      says: 'which was collected earlier, at 10:35',
    },
    { name: 'the same instant', given: { samples: [{ laboratoryTime: '2026-05-04T15:35:00Z' }] }, expect: 'silent' },
    { name: 'earlier', given: { samples: [{ laboratoryTime: '2026-05-04T09:15:00-05:00' }] }, expect: 'silent' },
    { name: 'none of its own', given: {}, expect: 'silent' },
  ],
};
