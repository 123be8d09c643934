import { MADE_UP_TIME_SOURCE } from '../../made-up-time.ts';
import type { SampleRecord } from '../../sample-records.ts';
import { typeEvidence, typeOf, writtenTime } from '../by-plan.ts';
import { aboutSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const BLIND = { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' } as const;
const PLANNED = '00000000-0000-7000-8000-000000000900';

export const blindDuplicateWithoutTime: SampleRule = {
  code: 'blind-duplicate-without-time',
  title: 'No time for the laboratory was written for a blind duplicate',
  severity: 'question',
  addressee: 'tonight',
  ...MADE_UP_TIME_SOURCE,
  methods: null,
  evaluate(facts) {
    const isBlind = (one: SampleRecord) => typeOf(one, facts) === 'blind-duplicate';
    const blind = facts.samples.filter((one) => isBlind(one) && writtenTime(one, facts) === undefined);
    return blind.flatMap((sample) =>
      aboutSample(
        sample,
        `No time for the laboratory is written for ${sample.fields.number}. The one that is made in its place is the earliest of the day, so that it cannot be paired, and being the earliest shows that it is blind. Write one among the times of other samples, not later than it was collected.`,
        typeEvidence(sample, facts),
      ),
    );
  },
  vectors: [
    { name: 'none', given: { samples: [{}, BLIND] }, expect: 'raised', says: 'Write one among the times' },
    {
      name: 'one was written',
      given: { samples: [{}, { ...BLIND, laboratoryTime: '2026-05-04T10:15:00-05:00' }] },
      expect: 'silent',
    },
    {
      name: 'one that its plan alone calls blind',
      given: { samples: [{}, { planned: PLANNED }], planned: [{ type: 'blind-duplicate' }] },
      expect: 'raised',
    },
    {
      name: 'one was written in the plan',
      given: {
        samples: [{}, { ...BLIND, planned: PLANNED }],
        planned: [{ type: 'blind-duplicate', laboratoryTime: '2026-05-04T10:15:00-05:00' }],
      },
      expect: 'silent',
    },
    {
      name: 'a duplicate that the laboratory may know',
      given: { samples: [{}, { ...BLIND, type: 'duplicate' }] },
      expect: 'silent',
    },
  ],
};
