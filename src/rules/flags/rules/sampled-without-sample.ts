import { fieldEvidence } from '../evidence.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';

export const sampledWithoutSample: FlagRule = {
  code: 'sampled-without-sample',
  title: 'The outcome says sampled and there is no sample',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: the outcome and the samples of one visit',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: [],
  evaluate({ bundle: { visit, well, samples } }) {
    if (visit.fields.outcome !== 'sampled' || samples.length > 0) return [];
    return [
      {
        subjectKind: 'visit',
        subject: visit.id,
        sentence: `The visit at ${well.fields.name} ended "sampled" and has no sample. Record the sample, or correct the outcome.`,
        evidence: [fieldEvidence(visit, 'outcome')],
      },
    ];
  },
  vectors: [
    { name: 'no sample', given: { visit: { outcome: 'sampled' } }, expect: 'raised' },
    {
      name: 'a sample',
      given: { visit: { outcome: 'sampled' }, calls: [{}], samples: [{ at: '10:40' }] },
      expect: 'silent',
    },
    { name: 'gauged only', given: { visit: { outcome: 'gauged-only' } }, expect: 'silent' },
  ],
};
