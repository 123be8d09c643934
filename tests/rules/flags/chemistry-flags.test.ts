import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airAtWell } from '../../../src/rules/flags/facts/purge-chemistry.ts';
import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { conductanceMethodChanged } from '../../../src/rules/flags/rules/conductance-method-changed.ts';
import { oxygenAboveSaturation } from '../../../src/rules/flags/rules/oxygen-above-saturation.ts';
import { oxygenFiguresDisagree } from '../../../src/rules/flags/rules/oxygen-figures-disagree.ts';
import { oxygenWithNegativeOrp } from '../../../src/rules/flags/rules/oxygen-with-negative-orp.ts';
import { percentOfOneAtmosphere } from '../../../src/rules/flags/rules/percent-of-one-atmosphere.ts';
import { repeatedLines } from '../../../src/rules/flags/rules/repeated-lines.ts';
import { stuckSensor } from '../../../src/rules/flags/rules/stuck-sensor.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { visitFlags } from '../../../src/rules/flags/visit-flags.ts';
import { oxygenSaturation } from '../../../src/science/oxygen/oxygen-saturation.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const RULES = [
  oxygenFiguresDisagree,
  oxygenAboveSaturation,
  oxygenWithNegativeOrp,
  percentOfOneAtmosphere,
  conductanceMethodChanged,
  stuckSensor,
  repeatedLines,
];
const CODES = new Set(RULES.map(({ code }) => code));

function flagsOf(given: VectorGiven) {
  const { bundle, assessments } = vectorFacts(given);
  return visitFlags(bundle, assessments).filter(({ rule }) => CODES.has(rule));
}

describe('the flags of chemistry', () => {
  it('are for now only where the crew can mend it there and a false one is rare', () => {
    const now = RULES.filter(({ addressee }) => addressee === 'now').map(({ code }) => code);
    expect(now).toEqual(['oxygen-figures-disagree', 'oxygen-above-saturation']);
  });

  it.each(['flowing', 'gauging', 'passive'] as const)('are none of a %s visit', (method) => {
    for (const { vectors } of RULES) {
      for (const { given } of vectors) expect(flagsOf({ ...given, visit: { method } })).toEqual([]);
    }
  });

  it('are one for one cause: a slip in the oxygen is not told as air, as ORP and as a percentage', () => {
    const slip = { temperatureC: '15.0', dissolvedOxygenMgPerL: '31.0', dissolvedOxygenPercent: '31.0', orpMv: '-150' };
    expect(flagsOf({ readings: [slip, slip, slip] }).map(({ rule }) => rule)).toEqual(['oxygen-figures-disagree']);
    const dead = { ...slip, ph: '15.20', specificConductanceUsPerCm: '612' };
    expect(flagsOf({ readings: Array(7).fill(dead) })).toEqual([]);
  });

  it('rest on the readings that they are about, field by field', () => {
    const [given] = oxygenAboveSaturation.vectors.map((vector) => vector.given);
    const [flag] = flagsOf(given ?? {});
    expect(flag?.evidence).toHaveLength(6);
    expect(new Set(flag?.evidence.map(({ field }) => field))).toEqual(
      new Set(['dissolvedOxygenMgPerL', 'temperatureC']),
    );
    const fahrenheit = { temperatureF: '59.0', dissolvedOxygenMgPerL: '12.40' };
    const [other] = flagsOf({ readings: [fahrenheit, fahrenheit, fahrenheit] });
    expect(other?.evidence.map(({ field }) => field)).toContain('temperatureF');
  });

  it('do not depend on the order in which the readings came', () => {
    const given: VectorGiven = {
      readings: [
        ...(stuckSensor.vectors[1]?.given.readings ?? []),
        ...(conductanceMethodChanged.vectors[0]?.given.readings ?? []),
      ].map((reading, index) => ({ ...reading, at: `10:${String(5 + index).padStart(2, '0')}` })),
    };
    const { bundle, assessments } = vectorFacts(given);
    const wanted = visitFlags(bundle, assessments);
    expect(wanted.map(({ rule }) => rule)).toContain('stuck-sensor');
    const [run] = bundle.purges;
    if (!run) throw new Error('the case has a purge');
    fc.assert(
      fc.property(fc.shuffledSubarray([...run.readings], { minLength: run.readings.length }), (readings) => {
        expect(visitFlags({ ...bundle, purges: [{ ...run, readings }] }, assessments)).toEqual(wanted);
      }),
    );
  });
});

describe('the air at a well', () => {
  const airOf = (point: object | undefined) => {
    const given = point === undefined ? {} : { measuringPoints: [point] };
    return airAtWell(vectorFacts(given).bundle, '2026-05-04T10:00:00-05:00');
  };

  it.each(['NAVD 88', 'NAVD88', 'NGVD 29', 'NGVD of 1929', 'feet above MSL', 'mean sea level'])(
    'follows from the elevation of its measuring point above %s',
    (datum) => {
      // 632.4 mmHg at 5,000 ft: the standard atmosphere of ISO 2533:1975
      expect(airOf({ elevationFt: '5000', datum })?.mmHg).toBeCloseTo(632.4, 1);
      expect(airOf({ elevationFt: '5000', datum })?.from).toBe('altitude');
    },
  );

  it('is not known without a point, an elevation, or a datum of the sea, nor where no well lies', () => {
    expect(airOf(undefined)).toBeNull();
    expect(airOf({ datum: 'NAVD 88' })).toBeNull();
    expect(airOf({ elevationFt: '100.00' })).toBeNull();
    expect(airOf({ elevationFt: '100.00', datum: 'Site datum: benchmark 1 is 100.00 ft' })).toBeNull();
    expect(airOf({ elevationFt: '99999', datum: 'NAVD 88' })).toBeNull();
  });
});

/** What a good meter shows of a purge: sensors that settle, wobble a little, and know the pressure of their station. */
function cleanReadings(purge: {
  readonly seeds: readonly number[];
  readonly pressureMmHg: number;
  readonly share: number;
  readonly orpMv: number;
}) {
  const { seeds, pressureMmHg, share, orpMv } = purge;
  const wobble = (index: number, salt: number) => ((seeds[(index * 7 + salt) % seeds.length] ?? 0) - 500) / 500;
  return Array.from({ length: 12 }, (_, index) => {
    const left = Math.exp(-index / 3);
    const temperatureC = (12.3 + 1.7 * left + 0.02 * wobble(index, 1)).toFixed(2);
    // the other family of formulas, so that the rule is not compared with itself
    const saturation = oxygenSaturation({
      temperatureC: Number(temperatureC),
      pressureMmHg,
      salinity: 0.3,
      basis: 'weiss',
    });
    if (isRefusal(saturation)) throw new Error(saturation.refused);
    const percent = Math.max(0, 100 * (share + (0.9 - share) * left) + 0.4 * wobble(index, 2));
    return {
      at: `${10 + Math.floor((5 + 5 * index) / 60)}:${String((5 + 5 * index) % 60).padStart(2, '0')}`,
      temperatureC,
      ph: (6.9 + 0.3 * left + 0.02 * wobble(index, 3)).toFixed(2),
      specificConductanceUsPerCm: (612 + 60 * left + 2 * wobble(index, 4)).toFixed(0),
      dissolvedOxygenPercent: percent.toFixed(1),
      dissolvedOxygenMgPerL: ((percent * saturation.mgPerL) / 100).toFixed(2),
      orpMv: (orpMv + 100 * left + 2 * wobble(index, 5)).toFixed(0),
      turbidityNtu: (3 + 50 * left + 0.3 * wobble(index, 6)).toFixed(1),
    };
  });
}

describe('clean purges', () => {
  it('raise nothing now at any reading of any of them, at any pressure, known or not', () => {
    const purges = fc.record({
      seeds: fc.array(fc.nat({ max: 1_000 }), { minLength: 23, maxLength: 23 }),
      pressureMmHg: fc.integer({ min: 560, max: 780 }),
      share: fc.constantFrom(0.01, 0.1, 0.5, 0.95),
      orpMv: fc.integer({ min: -90, max: 250 }),
    });
    fc.assert(
      fc.property(purges, (purge) => {
        const readings = cleanReadings(purge);
        for (let count = 1; count <= readings.length; count++) {
          const flags = flagsOf({ readings: readings.slice(0, count) });
          expect(flags.filter(({ addressee }) => addressee === 'now')).toEqual([]);
        }
        expect(flagsOf({ readings })).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  it('raise nothing where the altitude stands in for the barometer, whatever the weather', () => {
    const weather = fc.record({
      seeds: fc.array(fc.nat({ max: 1_000 }), { minLength: 23, maxLength: 23 }),
      share: fc.constantFrom(0.05, 0.5, 0.95),
      off: fc.double({ min: -0.03, max: 0.03, noNaN: true }),
    });
    const measuringPoints = [{ elevationFt: '5000', datum: 'NAVD 88' }];
    fc.assert(
      fc.property(weather, ({ seeds, share, off }) => {
        const readings = cleanReadings({ seeds, share, orpMv: 80, pressureMmHg: 632.4 * (1 + off) });
        expect(flagsOf({ measuringPoints, readings })).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
