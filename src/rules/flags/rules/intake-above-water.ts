import { intakeGeometry } from '../facts/intake-geometry.ts';
import type { FlagRule } from '../flag-rule.ts';

export const intakeAboveWater: FlagRule = {
  code: 'intake-above-water',
  title: 'The intake hangs at or above the water',
  severity: 'caution',
  addressee: 'now',
  source: 'Plain physics: a pump above the water draws air',
  verified: true,
  methods: ['low-flow', 'volume'],
  yieldsTo: [],
  evaluate({ bundle }) {
    const geometry = intakeGeometry(bundle);
    if (geometry?.water === undefined || geometry.intakeMillionthsFt > geometry.water.millionthsFt) return [];
    const { intake, water, intakeEvidence } = geometry;
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `The intake at ${intake.depthFt} ft is not below the water at ${water.depthFt} ft. Lower the pump, or measure the level again.`,
        evidence: [intakeEvidence, water.evidence],
      },
    ];
  },
  vectors: [
    {
      name: 'above the water',
      given: { levels: [{ depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '11.5' }] },
      expect: 'raised',
      says: 'The intake at 11.5 ft is not below the water at 12.00 ft',
    },
    {
      name: 'at the water',
      given: { levels: [{ depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '12.0' }] },
      expect: 'raised',
    },
    {
      name: 'below the water',
      given: { levels: [{ depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '20.0' }] },
      expect: 'silent',
    },
    {
      name: 'lowered by a later set-up',
      given: {
        levels: [{ at: '09:40', depthToWaterFt: '12.00' }],
        setUps: [
          { at: '09:50', intakeDepthFt: '11.5' },
          { at: '09:55', intakeDepthFt: '20.0' },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'a level of a synoptic round serves where no other was measured',
      given: { levels: [{ purpose: 'synoptic', depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '11.5' }] },
      expect: 'raised',
    },
    { name: 'no level, no answer', given: { setUps: [{ intakeDepthFt: '11.5' }] }, expect: 'silent' },
  ],
};
