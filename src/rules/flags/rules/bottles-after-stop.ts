import { fieldEvidence } from '../evidence.ts';
import { callBefore, purgedDry } from '../facts/calls.ts';
import { timeOfDay } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';
import { listText } from '../list-text.ts';

export const bottlesAfterStop: FlagRule = {
  code: 'bottles-after-stop',
  title: 'Bottles were filled after the call to stop without a sample',
  severity: 'question',
  addressee: 'now',
  source:
    'US EPA Region 1, EQASOP-GW4, Rev. 4, 19 Sep 2017 (from memory): keep purging, stop without a sample, or stop and sample, and document which',
  verified: false,
  methods: ['low-flow'],
  yieldsTo: [],
  evaluate({ bundle }) {
    if (purgedDry(bundle)) return [];
    const late = bundle.samples.flatMap((sample) => {
      const call = callBefore(bundle, sample);
      return call?.fields.decision === 'not-stable-stopped' ? [{ sample, call }] : [];
    });
    if (late.length === 0) return [];
    const samples = late.map(({ sample: { fields } }) => `${fields.number} (${timeOfDay(fields.collected)})`);
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `${listText(samples.toSorted())} collected after the call "not stable, stopped". If it was decided to sample after all, record that call.`,
        evidence: late.flatMap(({ sample, call }) => [
          fieldEvidence(sample, 'collected'),
          fieldEvidence(call, 'decision'),
        ]),
      },
    ];
  },
  vectors: [
    {
      name: 'sampled after the stop',
      given: { calls: [{ at: '12:00', decision: 'not-stable-stopped' }], samples: [{ at: '12:10' }] },
      expect: 'raised',
      says: 'W-101 (12:10) collected after the call',
    },
    {
      name: 'a new call decided otherwise',
      given: {
        calls: [
          { at: '12:00', decision: 'not-stable-stopped' },
          { at: '12:08', decision: 'not-stable-sampled' },
        ],
        samples: [{ at: '12:10' }],
      },
      expect: 'silent',
    },
    {
      name: 'stopped and left alone',
      given: { calls: [{ at: '12:00', decision: 'not-stable-stopped' }] },
      expect: 'silent',
    },
    {
      name: 'the well went dry',
      given: {
        visit: { outcome: 'insufficient-water' },
        calls: [{ at: '12:00', decision: 'not-stable-stopped' }],
        samples: [{ at: '12:10' }],
      },
      expect: 'silent',
    },
  ],
};
