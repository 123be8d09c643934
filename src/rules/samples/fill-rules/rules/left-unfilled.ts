import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutSample, labelsText, ofSamples, perSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const PLANNED = '00000000-0000-7000-8000-000000000900';

export const leftUnfilled: SampleRule = {
  code: 'left-unfilled',
  title: 'The crew left, and containers of a sample are neither filled nor dropped',
  severity: 'caution',
  addressee: 'tonight',
  source: 'Arithmetic of the records: what was expected is filled, or dropped with a reason',
  verified: true,
  methods: null,
  evaluate(facts) {
    const { visit } = facts;
    if (visit?.fields.left === undefined) return [];
    const left = ofSamples(facts).filter(
      ({ container, isFull }) => container.fields.standing === 'expected' && !isFull,
    );
    return perSample(left, (sample, its) =>
      aboutSample(
        sample,
        `The crew left with these of ${sample.fields.number} neither filled nor dropped: ${labelsText(its)}. Fill them, or drop them with the reason and who agreed.`,
        [...its.map(({ container }) => fieldEvidence(container, 'standing')), fieldEvidence(visit, 'left')],
      ),
    );
  },
  vectors: [
    {
      name: 'one waits',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{}, { standing: 'expected', fill: null }] },
      expect: 'raised',
      says: 'neither filled nor dropped: W-101-2',
    },
    {
      name: 'the crew is still there',
      given: { containers: [{}, { standing: 'expected', fill: null }] },
      expect: 'silent',
    },
    { name: 'all filled', given: { visit: { left: '2026-05-04T11:00:00-05:00' } }, expect: 'silent' },
    {
      name: 'filled, though still called expected',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{ standing: 'expected' }] },
      expect: 'silent',
    },
    {
      name: 'one that the plan of the sample has, which nobody said to be of it',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ planned: PLANNED }],
        containers: [{}, { of: null, planned: PLANNED, standing: 'expected', fill: null }],
      },
      expect: 'raised',
      says: 'neither filled nor dropped: W-101-2',
    },
    {
      name: 'one of another plan',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{}],
        containers: [{}, { of: null, planned: PLANNED, standing: 'expected', fill: null }],
      },
      expect: 'silent',
    },
    {
      name: 'one that the plan has, filled',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ planned: PLANNED }],
        containers: [{}, { of: null, planned: PLANNED, standing: 'expected' }],
      },
      expect: 'silent',
    },
    {
      name: 'dropped',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{ standing: 'dropped', fill: null }] },
      expect: 'silent',
    },
  ],
};
