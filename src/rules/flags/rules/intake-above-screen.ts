import { depthBelowPoint } from '../../well-depth.ts';
import { fieldEvidence } from '../evidence.ts';
import { intakeGeometry } from '../facts/intake-geometry.ts';
import type { FlagRule } from '../flag-rule.ts';

const well = { name: 'MW-4S', totalDepthFt: '25.3', screenTopFt: '15.3', screenBottomFt: '25.3' };

/** An intake above the water is the other rule's; here the water stands above the screen and the pump hangs in the casing. */
export const intakeAboveScreen: FlagRule = {
  code: 'intake-above-screen',
  title: 'The intake hangs above the saturated screen',
  severity: 'question',
  addressee: 'now',
  source: 'US EPA Region 1, EQASOP-GW4, Rev. 4, 19 Sep 2017 (from memory): at the middle of the saturated screen',
  verified: false,
  methods: ['low-flow'],
  yieldsTo: ['sounding-fits-another-well', 'sounding-fits-no-well', 'water-below-bottom', 'intake-above-water'],
  evaluate({ bundle }) {
    const geometry = intakeGeometry(bundle);
    const top = depthBelowPoint(bundle.well, 'screenTopFt');
    if (geometry === undefined || !top.known || geometry.intakeMillionthsFt >= top.millionthsFt) return [];
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `The intake at ${geometry.intake.depthFt} ft hangs above the screen of ${bundle.well.fields.name} (top at ${top.text}), in water that stood in the casing. Lower the pump to the middle of the saturated screen.`,
        evidence: [geometry.intakeEvidence, fieldEvidence(bundle.well, 'screenTopFt')],
      },
    ];
  },
  vectors: [
    {
      name: 'in the casing',
      given: { well, levels: [{ depthToWaterFt: '8.00' }], setUps: [{ intakeDepthFt: '12.0' }] },
      expect: 'raised',
      says: 'above the screen of MW-4S (top at 15.3 ft)',
    },
    {
      name: 'in the screen',
      given: { well, levels: [{ depthToWaterFt: '8.00' }], setUps: [{ intakeDepthFt: '20.0' }] },
      expect: 'silent',
    },
    {
      name: 'at the top of the screen',
      given: { well, levels: [{ depthToWaterFt: '8.00' }], setUps: [{ intakeDepthFt: '15.3' }] },
      expect: 'silent',
    },
    {
      name: 'screen depths below ground without a stick-up',
      given: { well: { ...well, depthsFrom: 'ground' }, setUps: [{ intakeDepthFt: '12.0' }] },
      expect: 'silent',
    },
    {
      name: 'above the water as well: one cause, and the water says it',
      given: { well, levels: [{ depthToWaterFt: '13.00' }], setUps: [{ intakeDepthFt: '12.0' }] },
      expect: 'silent',
    },
  ],
};
