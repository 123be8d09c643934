import { millionths } from '../../millionths.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { purgedDry } from '../facts/calls.ts';
import { intakeAt } from '../facts/intake.ts';
import { measuredLevels } from '../facts/measured-levels.ts';
import { timeOfDay } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';

function atIntake(bundle: VisitBundle) {
  return measuredLevels(bundle).flatMap((level) => {
    const intake = level.pumping ? intakeAt(bundle, level.atMs) : undefined;
    return intake && level.millionthsFt >= millionths(intake.depthFt) ? [{ level, intake }] : [];
  });
}

const setUps = [{ at: '09:50', intakeDepthFt: '20.0' }];

export const waterAtIntake: FlagRule = {
  code: 'water-at-intake',
  title: 'The pumping level has reached the intake',
  severity: 'caution',
  addressee: 'now',
  source:
    'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13 (state file, doc 504322, page 22): never let the level reach the intake',
  verified: true,
  methods: ['low-flow'],
  yieldsTo: ['intake-above-water'],
  evaluate({ bundle }) {
    const reached = purgedDry(bundle) ? [] : atIntake(bundle);
    const first = reached[0];
    if (first === undefined) return [];
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `At ${timeOfDay(first.level.at)} the water stood at ${first.level.depthFt} ft and the intake at ${first.intake.depthFt} ft: the pump draws air. Lower the flow, or call the well purged dry.`,
        evidence: reached.flatMap(({ level, intake }) => [
          level.evidence,
          fieldEvidence(intake.setUp, 'intakeDepthFt'),
        ]),
      },
    ];
  },
  vectors: [
    {
      name: 'drawn down to the intake',
      given: { setUps, readings: [{ depthToWaterFt: '20.00' }] },
      expect: 'raised',
      says: 'the water stood at 20.00 ft and the intake at 20.0 ft',
    },
    { name: 'above the intake', given: { setUps, readings: [{ depthToWaterFt: '19.99' }] }, expect: 'silent' },
    {
      name: 'the well was called purged dry',
      given: { setUps, readings: [{ depthToWaterFt: '20.40' }], calls: [{ decision: 'purged-dry' }] },
      expect: 'silent',
    },
    {
      name: 'the dry-well method draws the well down on purpose',
      given: { visit: { method: 'dry-well' }, setUps, readings: [{ depthToWaterFt: '20.40' }] },
      expect: 'silent',
    },
    {
      name: 'the intake was moved, and nobody said where to',
      given: {
        setUps,
        occurrences: [{ at: '10:10', type: 'intake-moved' }],
        readings: [{ at: '10:20', depthToWaterFt: '20.40' }],
      },
      expect: 'silent',
    },
    {
      name: 'a level at the end of the range of the tape is no measurement',
      given: { setUps, readings: [{ depthToWaterFt: '20.40', overRange: ['depthToWaterFt'] }] },
      expect: 'silent',
    },
  ],
};
