import type { AssessmentLike } from '../assessment-like.ts';
import { fieldEvidence, shownText } from '../evidence.ts';
import { drawdownAgainstCall } from '../facts/drawdown-against-call.ts';
import type { FlagRule, VisitFacts } from '../flag-rule.ts';
import { assessmentLike } from '../flag-vector-assessments.ts';
import type { Evidence, Finding } from '../raised-flag.ts';
import { vectorId } from '../vector-ids.ts';

type PurgeBundle = VisitFacts['bundle']['purges'][number];

/** The other rule has told it where an unsteady level is all that the assessment misses. */
function toldAlready(purge: PurgeBundle, assessment: AssessmentLike): boolean {
  const { drawdown } = assessment.conditions;
  const onlyReason = drawdown.required && assessment.missing.length <= 1;
  return onlyReason && drawdownAgainstCall(purge, assessment) !== undefined;
}

function evidenceOf(purge: PurgeBundle, assessment: AssessmentLike, because: string): readonly Evidence[] {
  const calls = purge.calls.filter((one) => one.id === assessment.call.call);
  return [
    { record: purge.purge.id, field: 'assessment', shows: shownText(because) },
    ...calls.map((call) => fieldEvidence(call, 'decision')),
  ];
}

function findingOf(purge: PurgeBundle, assessment: AssessmentLike | undefined): readonly Finding[] {
  if (assessment?.call.agreement !== 'differs' || toldAlready(purge, assessment)) return [];
  const because = assessment.call.because ?? 'The assessment decides otherwise.';
  return [
    {
      subjectKind: 'purge',
      subject: purge.purge.id,
      sentence: `The call and the assessment disagree. ${because}`,
      evidence: evidenceOf(purge, assessment, because),
    },
  ];
}

export const callDiffers: FlagRule = {
  code: 'call-differs',
  title: 'The call of the person differs from the assessment',
  severity: 'note',
  addressee: 'office',
  source: 'The criteria set that the assessment names; both the call and the assessment stand',
  verified: true,
  methods: ['low-flow', 'volume'],
  yieldsTo: [],
  evaluate: ({ bundle, assessments }) =>
    bundle.purges.flatMap((purge) => findingOf(purge, assessments.get(purge.purge.id))),
  vectors: [
    {
      name: 'they differ',
      given: {
        calls: [{}],
        assessment: assessmentLike({
          call: { agreement: 'differs', call: vectorId(0x3000), because: 'pH spread 0.24 is beyond 0.1.' },
        }),
      },
      expect: 'raised',
      says: 'The call and the assessment disagree. pH spread 0.24 is beyond 0.1.',
    },
    {
      name: 'they differ, also beside a level that is not steady',
      given: {
        calls: [{}],
        assessment: assessmentLike({
          drawdown: { status: 'not-steady', required: true },
          missing: ['A steady level.', 'A steady pH.'],
          call: { agreement: 'differs' },
        }),
      },
      expect: 'raised',
      says: 'disagree. The assessment decides otherwise.',
    },
    { name: 'they agree', given: { calls: [{}], assessment: assessmentLike({}) }, expect: 'silent' },
    {
      name: 'no call yet',
      given: { readings: [{}], assessment: assessmentLike({ call: { agreement: 'none' } }) },
      expect: 'silent',
    },
    {
      name: 'only the level is not steady, which is told at the well',
      given: {
        calls: [{}],
        assessment: assessmentLike({
          drawdown: { status: 'not-steady', required: true },
          missing: ['A steady level.'],
          call: { agreement: 'differs' },
        }),
      },
      expect: 'silent',
    },
  ],
};
