import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { assessmentLike } from '../../../src/rules/flags/flag-vector-assessments.ts';

const readings = Array.from({ length: 8 }, (_, index) => ({
  at: `10:${String(5 + 5 * index).padStart(2, '0')}`,
  temperatureC: (12.4 + 0.02 * index).toFixed(2),
  ph: (6.9 + 0.01 * index).toFixed(2),
  specificConductanceUsPerCm: String(612 - index),
  dissolvedOxygenMgPerL: (0.9 - 0.05 * index).toFixed(2),
  dissolvedOxygenPercent: (8.4 - 0.4 * index).toFixed(1),
  orpMv: String(-80 - index),
  turbidityNtu: (14 - 1.5 * index).toFixed(1),
  depthToWaterFt: (12.1 + 0.02 * index).toFixed(2),
  flowMlPerMin: '200',
  purgedMl: String(1_000 * (index + 1)),
}));

/** An ordinary low-flow visit to the shallow well of a nest, from the level to the bottles. */
export const CLEAN_VISIT: VectorGiven = {
  visit: { arrived: '2026-05-04T09:30:00-05:00', left: '2026-05-04T11:30:00-05:00', outcome: 'sampled' },
  well: {
    name: 'MW-4S',
    depthsFrom: 'ground',
    stickUpFt: '2.5',
    totalDepthFt: '22.8',
    screenTopFt: '12.8',
    screenBottomFt: '22.8',
    casingInsideDiameterIn: '2.067',
  },
  nestWells: [{ name: 'MW-4D', depthsFrom: 'ground', stickUpFt: '2.4', totalDepthFt: '59.4' }],
  pump: { wettedParts: [{ part: 'bladder', material: 'PTFE' }] },
  levels: [
    { at: '09:35', purpose: 'before-purge', depthToWaterFt: '12.04' },
    { at: '10:20', purpose: 'pumping', depthToWaterFt: '12.16' },
    { at: '11:25', purpose: 'final', depthToWaterFt: '12.06' },
  ],
  soundings: [{ at: '09:37', depthToBottomFt: '24.9' }],
  setUps: [{ at: '09:50', intakeDepthFt: '19.8', bladderMaterial: 'polyethylene', tubingMaterial: 'polyethylene' }],
  readings,
  occurrences: [
    { at: '10:07', type: 'flow-changed', flowMlPerMin: '200' },
    { at: '10:41', type: 'cell-off' },
  ],
  calls: [{ at: '10:40', decision: 'stable' }],
  samples: [{ at: '10:45', suites: ['PFAS', 'metals'] }],
  assessment: assessmentLike({}),
};
