import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';
import { listText } from '../list-text.ts';

type Outcome = NonNullable<VisitBundle['visit']['fields']['outcome']>;

/** A well that never became stable, or gave little water, may be sampled all the same, if that is documented. */
const WITH_SAMPLE: readonly Outcome[] = ['sampled', 'not-stable', 'purged-dry', 'insufficient-water'];

export const sampleWithoutOutcome: FlagRule = {
  code: 'sample-without-outcome',
  title: 'There is a sample and the outcome says that none was taken',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: the outcome and the samples of one visit',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: [],
  evaluate({ bundle: { visit, well, samples } }) {
    const { outcome } = visit.fields;
    if (outcome === undefined || WITH_SAMPLE.includes(outcome) || samples.length === 0) return [];
    const numbers = samples.map((sample) => sample.fields.number).toSorted();
    return [
      {
        subjectKind: 'visit',
        subject: visit.id,
        sentence: `The visit at ${well.fields.name} ended "${outcome}" and has ${listText(numbers)}. Correct the outcome, or void what was not sampled.`,
        evidence: [fieldEvidence(visit, 'outcome'), ...samples.map((sample) => fieldEvidence(sample, 'number'))],
      },
    ];
  },
  vectors: [
    {
      name: 'gauged only, with a sample',
      given: { visit: { method: 'passive', outcome: 'gauged-only' }, samples: [{}] },
      expect: 'raised',
      says: 'ended "gauged-only" and has W-101',
    },
    { name: 'sampled', given: { visit: { method: 'passive', outcome: 'sampled' }, samples: [{}] }, expect: 'silent' },
    {
      name: 'not stable, and sampled as the procedure allows',
      given: {
        visit: { outcome: 'not-stable' },
        calls: [{ at: '12:00', decision: 'not-stable-sampled' }],
        samples: [{ at: '12:10' }],
      },
      expect: 'silent',
    },
    { name: 'the visit goes on', given: { visit: { method: 'passive' }, samples: [{}] }, expect: 'silent' },
    { name: 'nothing sampled', given: { visit: { outcome: 'frozen' } }, expect: 'silent' },
  ],
};
