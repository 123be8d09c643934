import { tapeTolerance } from '../../depth-tolerance.ts';
import { measuredLevels } from '../facts/measured-levels.ts';
import { recordedBottom } from '../facts/well-bottom.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';

const well = { name: 'MW-4S', totalDepthFt: '25.3' };

export const waterBelowBottom: FlagRule = {
  code: 'water-below-bottom',
  title: 'The water level is below the recorded bottom of the well',
  severity: 'question',
  addressee: 'now',
  source: 'Plain physics: there is no water below the bottom of a well; the allowance for the tape: common practice',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: ['sounding-fits-another-well', 'sounding-fits-no-well'],
  evaluate({ bundle }) {
    const bottom = recordedBottom(bundle);
    if (bottom === undefined) return [];
    const lowest = bottom.millionthsFt + tapeTolerance(bottom.millionthsFt);
    const below = measuredLevels(bundle).filter((level) => level.millionthsFt > lowest);
    const first = below[0];
    if (first === undefined) return [];
    const name = bundle.well.fields.name;
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `Water at ${first.depthFt} ft is below the recorded bottom of ${name} (${bottom.text}). Read the tag on the casing and measure again.`,
        evidence: [...below.map((level) => level.evidence), bottom.evidence],
      },
    ];
  },
  vectors: [
    {
      name: 'water at 30 ft in a well of 25.3 ft',
      given: { well, levels: [{ depthToWaterFt: '30.00' }] },
      expect: 'raised',
      says: 'below the recorded bottom of MW-4S (25.3 ft)',
    },
    {
      name: 'a pumping level of the purge log counts too',
      given: { well, levels: [{ depthToWaterFt: '12.00' }], readings: [{ depthToWaterFt: '121.0' }] },
      expect: 'raised',
    },
    { name: 'water in the well', given: { well, levels: [{ depthToWaterFt: '12.00' }] }, expect: 'silent' },
    {
      name: 'the last water of a well, within the tape',
      given: { well, levels: [{ depthToWaterFt: '25.35' }] },
      expect: 'silent',
    },
    {
      name: 'one cause raises one flag: the sounding already says that it is another well',
      given: {
        well,
        nestWells: [{ name: 'MW-4D', totalDepthFt: '61.8' }],
        soundings: [{ depthToBottomFt: '61.6' }],
        levels: [{ depthToWaterFt: '30.00' }],
      },
      expect: 'silent',
    },
  ],
};
