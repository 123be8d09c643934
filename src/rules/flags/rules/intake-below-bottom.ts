import { tapeTolerance } from '../../depth-tolerance.ts';
import { intakeGeometry } from '../facts/intake-geometry.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';

const well = { name: 'MW-4S', totalDepthFt: '25.3' };

export const intakeBelowBottom: FlagRule = {
  code: 'intake-below-bottom',
  title: 'The intake is recorded below the bottom of the well',
  severity: 'question',
  addressee: 'now',
  source: 'Plain physics: a pump cannot hang below the bottom of a well; the allowance for the tape: common practice',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: ['sounding-fits-another-well', 'sounding-fits-no-well', 'water-below-bottom'],
  evaluate({ bundle }) {
    const geometry = intakeGeometry(bundle);
    if (geometry?.bottom === undefined) return [];
    const { intake, bottom, intakeMillionthsFt, intakeEvidence } = geometry;
    if (intakeMillionthsFt <= bottom.millionthsFt + tapeTolerance(bottom.millionthsFt)) return [];
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `The intake at ${intake.depthFt} ft is below the bottom of ${bundle.well.fields.name} (${bottom.text}). Check the depth of the pump, and which well this is.`,
        evidence: [intakeEvidence, bottom.evidence],
      },
    ];
  },
  vectors: [
    {
      name: 'below the recorded bottom',
      given: { well, setUps: [{ intakeDepthFt: '55.0' }] },
      expect: 'raised',
      says: 'below the bottom of MW-4S (25.3 ft)',
    },
    {
      name: 'below the silt that was sounded today',
      given: { well, soundings: [{ depthToBottomFt: '23.8' }], setUps: [{ intakeDepthFt: '25.0' }] },
      expect: 'raised',
      says: '(23.8 ft)',
    },
    { name: 'in the well', given: { well, setUps: [{ intakeDepthFt: '20.0' }] }, expect: 'silent' },
    {
      name: 'a well whose depth is not recorded',
      given: { well: { name: 'MW-9' }, setUps: [{ intakeDepthFt: '55.0' }] },
      expect: 'silent',
    },
  ],
};
