import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { callBefore, callsInOrder, purgedDry } from '../facts/calls.ts';
import { timeOfDay } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';
import { listText } from '../list-text.ts';
import type { Evidence } from '../raised-flag.ts';

type Sample = VisitBundle['samples'][number];

/** No call yet, or one that said to purge on: nobody had decided to sample. */
function isUndecided(bundle: VisitBundle, sample: Sample): boolean {
  const call = callBefore(bundle, sample);
  return call === undefined || call.fields.decision === 'purging-continued';
}

function evidenceOf(bundle: VisitBundle, early: readonly Sample[]): readonly Evidence[] {
  const calls = callsInOrder(bundle);
  return [
    ...early.map((sample) => fieldEvidence(sample, 'collected')),
    ...calls.map((call) => ({ record: call.id, field: 'observed', shows: call.fields.observed.at })),
  ];
}

export const bottlesBeforeCall: FlagRule = {
  code: 'bottles-before-call',
  title: 'Bottles were filled before anybody called the well stable',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: bottles are filled only after the stabilization call',
  verified: false,
  methods: ['low-flow'],
  yieldsTo: [],
  evaluate({ bundle }) {
    const early = purgedDry(bundle) ? [] : bundle.samples.filter((sample) => isUndecided(bundle, sample));
    if (early.length === 0) return [];
    const samples = early.map(({ fields }) => `${fields.number} (${timeOfDay(fields.collected)})`).toSorted();
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `${listText(samples)} collected before a call that decides to sample. Record the call, correct the time, or fill the bottles again after the call.`,
        evidence: evidenceOf(bundle, early),
      },
    ];
  },
  vectors: [
    {
      name: 'no call at all',
      given: { readings: [{}], samples: [{ at: '10:31' }] },
      expect: 'raised',
      says: 'W-101 (10:31) collected before a call',
    },
    {
      name: 'the call came later',
      given: { calls: [{ at: '10:45' }], samples: [{ at: '10:31' }] },
      expect: 'raised',
    },
    { name: 'after the call', given: { calls: [{ at: '10:30' }], samples: [{ at: '10:35' }] }, expect: 'silent' },
    {
      name: 'in the minute of the call',
      given: { calls: [{ at: '10:30' }], samples: [{ at: '10:30' }] },
      expect: 'silent',
    },
    {
      name: 'the latest call said to purge on',
      given: { calls: [{ at: '10:30', decision: 'purging-continued' }], samples: [{ at: '10:35' }] },
      expect: 'raised',
    },
    {
      name: 'called not stable and sampled, as the procedure allows',
      given: { calls: [{ at: '10:30', decision: 'not-stable-sampled' }], samples: [{ at: '10:35' }] },
      expect: 'silent',
    },
    {
      name: 'a well purged dry is sampled once it has recovered',
      given: { visit: { outcome: 'purged-dry' }, readings: [{}], samples: [{ at: '16:00' }] },
      expect: 'silent',
    },
    {
      name: 'a passive sampler needs no call',
      given: { visit: { method: 'passive' }, samples: [{ at: '10:35' }] },
      expect: 'silent',
    },
    {
      name: 'the dry-well method needs no call',
      given: { visit: { method: 'dry-well' }, samples: [{ at: '10:35' }] },
      expect: 'silent',
    },
  ],
};
