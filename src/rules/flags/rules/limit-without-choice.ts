import { limitText } from '../../assessment/limits.ts';
import type { AssessmentLike } from '../assessment-like.ts';
import { fieldEvidence, shownText } from '../evidence.ts';
import { purgedDry } from '../facts/calls.ts';
import { timeOfDay } from '../facts/observed-order.ts';
import type { FlagRule, VisitFacts } from '../flag-rule.ts';
import { assessmentLike } from '../flag-vector-assessments.ts';
import type { Finding } from '../raised-flag.ts';
import { vectorId } from '../vector-ids.ts';

type PurgeBundle = VisitFacts['bundle']['purges'][number];
type Visit = VisitFacts['bundle']['visit'];
type Limit = NonNullable<AssessmentLike['limits']>[number];

/** These outcomes say themselves that the crew stopped without a sample. */
const STOPPED: readonly Visit['fields']['outcome'][] = [
  'not-stable',
  'abandoned',
  'obstructed',
  'frozen',
  'no-access',
  'insufficient-water',
];

/** While the crew is there it may still choose; the assessment advises it to. */
function isOver({ fields }: Visit): boolean {
  return fields.left !== undefined || fields.outcome !== undefined;
}

/** Reached, by a reading as it always is, and no call says what the crew chose. */
function isOpen(limit: Limit): limit is Limit & { readonly reading: string; readonly reachedAt: string } {
  return limit.status === 'reached' && limit.call === undefined;
}

function findingOf(visit: Visit, { purge, calls }: PurgeBundle, limits: readonly Limit[]): readonly Finding[] {
  const limit = limits.find(isOpen);
  if (limit === undefined) return [];
  const what = `${limitText(limit)} (${timeOfDay(limit.reachedAt)})`;
  return [
    {
      subjectKind: 'purge',
      subject: purge.id,
      sentence: `The purge was not stable after ${what}, and no call says what the crew chose. Record the call: purged on, stopped without a sample, or sampled although not stable.`,
      evidence: [
        { record: limit.reading, field: 'observed', shows: shownText(what) },
        fieldEvidence(visit, 'outcome'),
        ...calls.map((call) => fieldEvidence(call, 'decision')),
      ],
    },
  ];
}

/** Two hours of a low-stress purge without stability, and what became of it. */
function reached(more: Partial<Limit> = {}) {
  const limit = { of: 'minutes', limit: '120', status: 'reached', reading: vectorId(0x3000) } as const;
  return assessmentLike({ limits: [{ ...limit, reachedAt: '2026-05-04T12:00:00-05:00', ...more }] });
}

const LEFT = { left: '2026-05-04T12:30:00-05:00' };

export const limitWithoutChoice: FlagRule = {
  code: 'limit-without-choice',
  title: 'The purge went past the limit without being stable and nobody recorded what was chosen',
  severity: 'question',
  addressee: 'tonight',
  source:
    'US EPA Region 1, EQASOP-GW4, Rev. 4, 2017, from memory: after 2 hours keep purging, stop without a sample, or sample, and document it; other limits are those of the plan or of its criteria set',
  verified: false,
  methods: ['low-flow', 'volume'],
  yieldsTo: ['bottles-before-call'],
  evaluate({ bundle, assessments }) {
    const { visit, purges } = bundle;
    if (!isOver(visit) || STOPPED.includes(visit.fields.outcome) || purgedDry(bundle)) return [];
    return purges.flatMap((one) => findingOf(visit, one, assessments.get(one.purge.id)?.limits ?? []));
  },
  vectors: [
    {
      name: 'two hours, and the crew left',
      given: { visit: LEFT, readings: [{}], assessment: reached() },
      expect: 'raised',
      says: 'not stable after 120 min (12:00), and no call says what the crew chose',
    },
    {
      name: 'sampled, and the latest call before the limit said to purge on',
      given: {
        visit: { method: 'volume', outcome: 'sampled' },
        calls: [{ at: '11:30', decision: 'purging-continued' }],
        assessment: reached({ of: 'well-volumes', limit: '5' }),
      },
      expect: 'raised',
      says: 'not stable after 5 well volumes (12:00)',
    },
    {
      name: 'a call records the choice',
      given: {
        visit: LEFT,
        calls: [{ at: '12:05', decision: 'not-stable-sampled' }],
        assessment: reached({ call: vectorId(0x3000) }),
      },
      expect: 'silent',
    },
    {
      name: 'the limit was not reached',
      given: { visit: LEFT, readings: [{}], assessment: reached({ status: 'not-reached' }) },
      expect: 'silent',
    },
    { name: 'the crew is still there', given: { readings: [{}], assessment: reached() }, expect: 'silent' },
    {
      name: 'the outcome says that the crew stopped without a sample',
      given: { visit: { outcome: 'not-stable' }, readings: [{}], assessment: reached() },
      expect: 'silent',
    },
    {
      name: 'a well that was purged dry',
      given: { visit: { outcome: 'purged-dry' }, readings: [{}], assessment: reached() },
      expect: 'silent',
    },
    {
      name: 'bottles were filled without any call, which is told already',
      given: { visit: LEFT, readings: [{}], samples: [{ at: '12:20' }], assessment: reached() },
      expect: 'silent',
    },
    {
      name: 'criteria without a limit',
      given: { visit: LEFT, readings: [{}], assessment: assessmentLike({}) },
      expect: 'silent',
    },
  ],
};
