import { describe, expect, it } from 'vitest';
import { intakeAt, setUpAt } from '../../../../src/rules/flags/facts/intake.ts';
import type { VectorGiven } from '../../../../src/rules/flags/flag-vector.ts';
import { vectorFacts, vectorInstant } from '../../../../src/rules/flags/vector-bundle.ts';

const at = (time: string) => Date.parse(vectorInstant(time));
const bundleOf = (given: VectorGiven) => vectorFacts(given).bundle;

const twice = bundleOf({
  setUps: [
    { at: '10:30', intakeDepthFt: '21.0' },
    { at: '09:50', intakeDepthFt: '20.0' },
  ],
  occurrences: [{ at: '10:40', type: 'intake-moved' }],
});

describe('the set-up in force', () => {
  it('is the latest one by then, and before the first one the first', () => {
    expect(setUpAt(twice, at('10:00'))?.fields.intakeDepthFt).toBe('20.0');
    expect(setUpAt(twice, at('10:30'))?.fields.intakeDepthFt).toBe('21.0');
    expect(setUpAt(twice, at('09:00'))?.fields.intakeDepthFt).toBe('20.0');
    expect(setUpAt(bundleOf({}), at('09:00'))).toBeUndefined();
  });

  it('of two at the same minute is always the same one', () => {
    const { setUps, ...rest } = bundleOf({ setUps: [{ intakeDepthFt: '1.0' }, { intakeDepthFt: '2.0' }] });
    for (const ordered of [setUps, setUps.toReversed()])
      expect(setUpAt({ ...rest, setUps: ordered }, at('11:00'))?.fields.intakeDepthFt).toBe('2.0');
  });
});

describe('the intake', () => {
  it('is unknown where the set-up does not say, or once it was moved', () => {
    expect(intakeAt(bundleOf({ setUps: [{}] }), at('11:00'))).toBeUndefined();
    expect(intakeAt(bundleOf({}), at('11:00'))).toBeUndefined();
    expect(intakeAt(twice, at('10:39'))?.depthFt).toBe('21.0');
    expect(intakeAt(twice, at('10:40'))).toBeUndefined();
  });

  it('is the one of a set-up noted in the minute of the move', () => {
    const noted = bundleOf({
      setUps: [{ at: '10:40', intakeDepthFt: '22.0' }],
      occurrences: [{ at: '10:40', type: 'intake-moved' }],
    });
    expect(intakeAt(noted, at('10:50'))?.depthFt).toBe('22.0');
  });

  it('is known again by a set-up after the move', () => {
    const again = bundleOf({
      setUps: [
        { at: '09:50', intakeDepthFt: '20.0' },
        { at: '10:45', intakeDepthFt: '22.0' },
      ],
      occurrences: [{ at: '10:40', type: 'intake-moved' }],
    });
    expect(intakeAt(again, at('10:50'))?.depthFt).toBe('22.0');
  });
});
