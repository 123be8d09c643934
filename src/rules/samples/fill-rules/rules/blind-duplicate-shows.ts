import { instantMs } from '../../../../science/instant-ms.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutSample } from '../parts.ts';
import type { SampleRecord } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

function toldTime({ fields }: SampleRecord): string {
  return fields.laboratoryTime ?? fields.collected;
}

function isSameTime(blind: SampleRecord, parent: SampleRecord): boolean {
  // what is not told otherwise is made up so that it does not show
  return blind.fields.laboratoryTime !== undefined && instantMs(toldTime(blind)) === instantMs(toldTime(parent));
}

export const blindDuplicateShows: SampleRule = {
  code: 'blind-duplicate-shows',
  title: 'A blind duplicate has the time of its parent on its label',
  severity: 'question',
  addressee: 'tonight',
  source:
    'Hawaii Department of Health, Technical Guidance Manual, 10.6: the laboratory must not be able to link it; another time on the label',
  verified: true,
  methods: null,
  evaluate({ samples }) {
    return samples.flatMap((sample) => {
      const parent = samples.find(({ id }) => id === sample.fields.of);
      if (sample.fields.type !== 'blind-duplicate' || !parent || !isSameTime(sample, parent)) return [];
      return aboutSample(
        sample,
        `The laboratory is told the same time of ${sample.fields.number} and of its parent, and can pair them. Give the blind duplicate another time, not later than it was collected, so that no clock of it runs late.`,
        [fieldEvidence(sample, 'laboratoryTime'), fieldEvidence(parent, 'collected')],
      );
    });
  },
  vectors: [
    {
      name: 'the same time',
      given: {
        samples: [
          {},
          {
            type: 'blind-duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:35:00-05:00',
          },
        ],
      },
      expect: 'raised',
      says: 'can pair them',
    },
    {
      name: 'another time',
      given: {
        samples: [
          {},
          {
            type: 'blind-duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:15:00-05:00',
          },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'none told: it is made',
      given: { samples: [{}, { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' }] },
      expect: 'silent',
    },
    {
      name: 'a duplicate that the laboratory may know',
      given: {
        samples: [
          {},
          {
            type: 'duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:35:00-05:00',
          },
        ],
      },
      expect: 'silent',
    },
  ],
};
