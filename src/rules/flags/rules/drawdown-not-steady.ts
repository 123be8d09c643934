import { drawdownAgainstCall } from '../facts/drawdown-against-call.ts';
import type { FlagRule } from '../flag-rule.ts';
import { assessmentLike } from '../flag-vector-assessments.ts';

const growing = { status: 'not-steady', because: 'Drawdown grew from 0.42 ft to 0.71 ft in the window.' } as const;

export const drawdownNotSteady: FlagRule = {
  code: 'drawdown-not-steady',
  title: 'Called stable while the water level keeps falling',
  severity: 'caution',
  addressee: 'now',
  source:
    'ASTM D6771-21, section 5.2 (its published summary): low-flow is for wells that can be pumped without continuously increasing drawdown',
  verified: true,
  methods: ['low-flow'],
  yieldsTo: ['water-at-intake'],
  evaluate({ bundle, assessments }) {
    return bundle.purges.flatMap((purge) => {
      const against = drawdownAgainstCall(purge, assessments.get(purge.purge.id));
      if (against === undefined) return [];
      const sentence = `The call says stable, but the level is not steady. ${against.because}`;
      return [{ subjectKind: 'purge', subject: purge.purge.id, sentence, evidence: against.evidence }];
    });
  },
  vectors: [
    {
      name: 'called stable on a falling level',
      given: { calls: [{}], assessment: assessmentLike({ drawdown: growing }) },
      expect: 'raised',
      says: 'Drawdown grew from 0.42 ft to 0.71 ft',
    },
    {
      name: 'beyond the limit but steady',
      given: { calls: [{}], assessment: assessmentLike({ drawdown: { status: 'beyond-but-steady' } }) },
      expect: 'silent',
    },
    {
      name: 'the call does not say stable',
      given: {
        calls: [{ decision: 'not-stable-sampled' }],
        assessment: assessmentLike({ drawdown: growing }),
      },
      expect: 'silent',
    },
    {
      name: 'a falling level before any call is the assessment’s to say',
      given: { readings: [{}], assessment: assessmentLike({ drawdown: growing }) },
      expect: 'silent',
    },
  ],
};
