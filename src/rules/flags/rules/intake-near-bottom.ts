import { decimalText } from '../../millionths.ts';
import { type IntakeGeometry, intakeGeometry } from '../facts/intake-geometry.ts';
import type { FlagRule } from '../flag-rule.ts';

const LEAST_MILLIONTHS_FT = 2_000_000;

/**
 * In a short saturated screen its middle, where the pump belongs, is itself closer than 2 ft to the bottom: both
 * cannot be had, and the middle is lawful.
 */
function cannotBeHad(geometry: IntakeGeometry, bottomMillionthsFt: number): boolean {
  const { screenTopMillionthsFt: top, screenBottomMillionthsFt: end, water } = geometry;
  if (top === undefined && water === undefined) return false;
  const saturatedTop = Math.max(top ?? Number.NEGATIVE_INFINITY, water?.millionthsFt ?? Number.NEGATIVE_INFINITY);
  const middle = (saturatedTop + Math.min(end ?? bottomMillionthsFt, bottomMillionthsFt)) / 2;
  return bottomMillionthsFt - middle < LEAST_MILLIONTHS_FT;
}

const well = { name: 'MW-4S', totalDepthFt: '25.3', screenTopFt: '15.3', screenBottomFt: '25.3' };

export const intakeNearBottom: FlagRule = {
  code: 'intake-near-bottom',
  title: 'The intake hangs closer than 2 ft to the bottom of the well',
  severity: 'question',
  addressee: 'now',
  source: 'US EPA Region 1, EQASOP-GW4, Rev. 4, 19 Sep 2017 (from memory): at least 2 ft above the bottom of the well',
  verified: false,
  methods: ['low-flow'],
  yieldsTo: ['sounding-fits-another-well', 'sounding-fits-no-well', 'water-below-bottom', 'intake-below-bottom'],
  evaluate({ bundle }) {
    const geometry = intakeGeometry(bundle);
    if (geometry?.bottom === undefined) return [];
    const { intake, bottom, intakeMillionthsFt, intakeEvidence } = geometry;
    const above = bottom.millionthsFt - intakeMillionthsFt;
    if (above >= LEAST_MILLIONTHS_FT || cannotBeHad(geometry, bottom.millionthsFt)) return [];
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `The intake at ${intake.depthFt} ft hangs ${decimalText(Math.max(0, above))} ft above the bottom of the well (${bottom.text}); below 2 ft it stirs up what lies there. Raise the pump.`,
        evidence: [intakeEvidence, bottom.evidence],
      },
    ];
  },
  vectors: [
    {
      name: 'one foot above the bottom',
      given: { well, levels: [{ depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '24.3' }] },
      expect: 'raised',
      says: 'hangs 1 ft above the bottom',
    },
    {
      name: 'exactly two feet',
      given: { well, levels: [{ depthToWaterFt: '12.00' }], setUps: [{ intakeDepthFt: '23.3' }] },
      expect: 'silent',
    },
    {
      name: 'exactly 4 ft of water leave room for 2 ft',
      given: { well, levels: [{ depthToWaterFt: '21.30' }], setUps: [{ intakeDepthFt: '23.4' }] },
      expect: 'raised',
    },
    {
      name: 'less than 4 ft of water leave no room for 2 ft',
      given: { well, levels: [{ depthToWaterFt: '22.00' }], setUps: [{ intakeDepthFt: '23.6' }] },
      expect: 'silent',
    },
    {
      name: 'the screen alone, without a water level, is short',
      given: { well: { ...well, screenTopFt: '22.3' }, setUps: [{ intakeDepthFt: '23.8' }] },
      expect: 'silent',
    },
    {
      name: 'the water alone, where the screen is not recorded',
      given: {
        well: { name: 'MW-4S', totalDepthFt: '25.3' },
        levels: [{ depthToWaterFt: '12.00' }],
        setUps: [{ intakeDepthFt: '24.3' }],
      },
      expect: 'raised',
    },
    {
      name: 'neither screen nor water level known',
      given: { well: { name: 'MW-4S', totalDepthFt: '25.3' }, setUps: [{ intakeDepthFt: '24.3' }] },
      expect: 'raised',
    },
    {
      name: 'a volume purge is not bound by it',
      given: { well, visit: { method: 'volume' }, setUps: [{ intakeDepthFt: '24.3' }] },
      expect: 'silent',
    },
  ],
};
