import { expect, it } from 'vitest';
import { measuredLevels, staticLevel } from '../../../../src/rules/flags/facts/measured-levels.ts';
import { vectorFacts } from '../../../../src/rules/flags/vector-bundle.ts';

const { bundle } = vectorFacts({
  levels: [
    { at: '10:20', purpose: 'pumping', depthToWaterFt: '12.30' },
    { at: '09:35', purpose: 'synoptic', depthToWaterFt: '12.00' },
    { at: '09:50', depthToWaterFt: '12.01' },
    { at: '09:55', state: 'obstructed' },
    { at: '09:45', depthToWaterFt: '12.09' },
  ],
  readings: [{ at: '10:20', depthToWaterFt: '12.31' }, { at: '10:10', depthToWaterFt: '12.20' }, {}],
});

it('levels and purge logs are one list by time, equal times by record', () => {
  const depths = ['12.00', '12.09', '12.01', '12.20', '12.30', '12.31'];
  expect(measuredLevels(bundle).map((level) => level.depthFt)).toEqual(depths);
  const pumping = measuredLevels(bundle).filter((level) => level.pumping);
  expect(pumping.map((level) => level.depthFt)).toEqual(['12.20', '12.30', '12.31']);
  const swapped = { ...bundle, levels: bundle.levels.map((one) => ({ ...one, id: `f${one.id}` })) };
  expect(measuredLevels(swapped).at(-1)?.depthFt).toBe('12.30');
});

it('the static level is the latest before the purge that was measured, or of the synoptic round', () => {
  expect(staticLevel(bundle)?.depthFt).toBe('12.01');
  const synoptic = bundle.levels.filter((level) => level.fields.purpose !== 'before-purge');
  expect(staticLevel({ ...bundle, levels: synoptic })?.depthFt).toBe('12.00');
  expect(staticLevel({ ...bundle, levels: [] })).toBeUndefined();
});
