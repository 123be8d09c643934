import { describe, expect, it } from 'vitest';
import { criteriaSets } from '../../../src/catalog/criteria-sets.ts';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, later, level, reading, STEADY, setUp, statusOf, well } from './purge-fixture.ts';

type Fields = ReadingRecord['fields'];

/**
 * Ten feet of water in a casing of 2.00 in: 6178 mL, of which each reading comes 7 L later; the intake in the middle of a
 * screen that is all under water.
 */
function purge(criteria: string, field: keyof Fields, values: readonly string[]) {
  const readings = values.map((value, index) =>
    reading(
      { time: later(index * 300) },
      { ...STEADY, depthToWaterFt: '22.20', purgedMl: String(20_000 + index * 7_000), [field]: value },
    ),
  );
  return assess({
    criteria,
    readings,
    plan: { pumpVolumeMl: '150' },
    levels: [level({ time: '09:50' }, 'before-purge', '22.10')],
    setUps: [
      setUp(
        { time: '09:55' },
        { intakeDepthFt: '28', tubingInsideDiameterIn: '0.17', tubingLengthFt: '40', flowCellVolumeMl: '250' },
      ),
    ],
    well: well({ casingInsideDiameterIn: '2.00', totalDepthFt: '32.10', screenTopFt: '24', screenBottomFt: '32' }),
  });
}

/** A purge that stands at a limit of the set, and one just beyond it: set, parameter, field, values. */
const CASES: readonly (readonly [string, string, keyof Fields, readonly string[], readonly string[]])[] = [
  // EQASOP-GW4 Rev. 4, 2017: DO low where three values are below 0.5 mg/L (from memory)
  [
    'epa-region-1-low-stress-rev-4',
    'dissolved-oxygen',
    'dissolvedOxygenMgPerL',
    ['0.49', '0.30', '0.10'],
    ['0.50', '0.30', '0.10'],
  ],
  // SOP GW 0001 Rev. 2, 1996: turbidity low below 1 NTU (from memory)
  ['epa-region-1-low-stress-rev-2', 'turbidity', 'turbidityNtu', ['0.99', '0.50', '0.10'], ['1.00', '0.50', '0.10']],
  // EPA/540/S-95/504, 1996: pH plus or minus 0.1 (from memory)
  ['puls-and-barcelona-1996', 'ph', 'ph', ['7.10', '7.20', '7.30'], ['7.10', '7.20', '7.31']],
  // Paul & Puls 2001: ORP plus or minus 5 mV (seen)
  ['paul-and-puls-2001', 'orp', 'orpMv', ['-84', '-79', '-74'], ['-84', '-79', '-73']],
  // EPA/542/S-02/001, 2002: DO plus or minus 0.3 mg/L (from memory)
  [
    'yeskis-and-zavala-2002',
    'dissolved-oxygen',
    'dissolvedOxygenMgPerL',
    ['2.00', '2.30', '2.60'],
    ['2.00', '2.30', '2.61'],
  ],
  // TWRI 9-A4 v2.0, 2006: temperature plus or minus 0.2 °C over five readings (from memory)
  [
    'usgs-field-manual-a4-2006',
    'temperature',
    'temperatureC',
    ['12.0', '12.1', '12.2', '12.3', '12.4'],
    ['12.0', '12.1', '12.2', '12.3', '12.5'],
  ],
  // ASTM D6771-21: ORP plus or minus 20 mV (from memory)
  ['astm-d6771-21', 'orp', 'orpMv', ['-84', '-64', '-44'], ['-84', '-64', '-43']],
  // SESDPROC-301-R3, 2013: conductance varies no more than 5 %: 25/512.3 and 26/513 (from memory)
  [
    'epa-region-4-low-flow-2013',
    'specific-conductance',
    'specificConductanceUsPerCm',
    ['500', '512', '525'],
    ['500', '513', '526'],
  ],
  // SESDPROC-301-R3, 2013: turbidity stable, or at most 10 NTU (from memory)
  ['epa-region-4-well-volumes-2013', 'turbidity', 'turbidityNtu', ['10.0', '3.0', '1.0'], ['10.1', '3.0', '1.0']],
  // New Jersey DEP, Dec 2003: temperature 3 %: 0.36/12.18 and 0.37/12.18 (from memory)
  ['new-jersey-low-flow-2003', 'temperature', 'temperatureC', ['12.00', '12.18', '12.36'], ['12.00', '12.18', '12.37']],
  // FS 2200, Jan 2017: conductance plus or minus 5.0 % of reading: 26/520 is 5.0 % (from memory)
  [
    'florida-fs-2200-2017',
    'specific-conductance',
    'specificConductanceUsPerCm',
    ['494', '510', '520'],
    ['493', '510', '520'],
  ],
  // Ohio EPA chapter 10: DO 10 % or 0.2 mg/L, whichever is greater (from memory)
  [
    'ohio-chapter-10-2012',
    'dissolved-oxygen',
    'dissolvedOxygenMgPerL',
    ['0.30', '0.50', '0.70'],
    ['0.30', '0.50', '0.71'],
  ],
  // UFGS 02521: pH changes by less than 0.2 (seen)
  ['ufgs-02521-well-development', 'ph', 'ph', ['7.10', '7.20', '7.29'], ['7.10', '7.20', '7.30']],
  // Air-base SOP B1.4, 2010: four readings within 10 %, up to 100 NTU tolerated (seen)
  [
    'air-base-well-development-2010',
    'turbidity',
    'turbidityNtu',
    ['95', '98', '100', '100'],
    ['95', '98', '100', '101'],
  ],
  // State solid-waste rule: within 10 % of the reading range: 1.0/10.5 and 1.2/10.6 (seen)
  ['state-solid-waste-rule', 'turbidity', 'turbidityNtu', ['10.0', '10.5', '11.0'], ['10.0', '10.6', '11.2']],
  // Colorado state file, doc 641310: conductance 10 %, two sets (seen); 282 and 335 are the 17.2 % of doc 794463, page 7
  [
    'colorado-mine-permit-protocol',
    'specific-conductance',
    'specificConductanceUsPerCm',
    ['282', '311'],
    ['282', '335'],
  ],
  // California county file, doc 600417: temperature plus or minus 1.0 °F, final two sets (seen)
  ['county-casing-volume-protocol', 'temperature', 'temperatureF', ['53.6', '54.6'], ['53.6', '54.7']],
  // California county file, doc 276400, page 39: pH plus or minus 0.05 (seen)
  ['puls-and-paul-1995', 'ph', 'ph', ['7.10', '7.15', '7.20'], ['7.10', '7.15', '7.21']],
];

/** The Fahrenheit meter shows no degrees Celsius. */
function inOneUnit(criteria: string, field: keyof Fields, values: readonly string[]) {
  const result = purge(criteria, field, values);
  if (field !== 'temperatureF') return result;
  const readings = values.map((value, index) =>
    reading(
      { time: later(index * 300) },
      { ...without(STEADY, 'temperatureC'), temperatureF: value, purgedMl: String(20_000 + index * 7_000) },
    ),
  );
  // nothing is known here of the well, whose volumes the set asks for
  return assess({ criteria, readings, plan: { whenUnknown: 'reported' } });
}

function without<Key extends keyof Fields>(fields: Partial<Fields>, key: Key): Partial<Fields> {
  const { [key]: _, ...rest } = fields;
  return rest as Partial<Fields>;
}

describe('every criteria set', () => {
  it.each(CASES)(
    '[A2] %s: %s at the limit of the set passes, and just beyond it fails',
    (id, parameter, field, at, beyond) => {
      const passing = inOneUnit(id, field, at);
      expect(passing.missing).toEqual([]);
      expect(passing).toMatchObject({ stable: true, readingsNeeded: at.length, criteria: { id } });
      expect(['stable', 'low-value']).toContain(statusOf(passing, parameter));
      const failing = inOneUnit(id, field, beyond);
      expect(statusOf(failing, parameter)).toBe('not-stable');
      expect(failing.stable).toBe(false);
      expect(failing.missing).toHaveLength(1);
    },
  );

  it('[A2] has such a pair here', () => {
    expect(CASES.map(([id]) => id).toSorted()).toEqual(criteriaSets.map(({ id }) => id).toSorted());
  });

  // Colorado state file, doc 794463, page 7: pH 9.29, 9.21, 9.08 with SC 252, 282, 335 fails under every rule.
  it('[A12] fails the published case by each set that asks for pH and conductance', () => {
    for (const { id } of criteriaSets) {
      const rows = [
        ['9.29', '252'],
        ['9.21', '282'],
        ['9.08', '335'],
        ['8.89', '398'],
        ['8.60', '480'],
      ];
      const readings = rows.map(([ph = '', sc = ''], index) =>
        reading({ time: later(index * 300) }, { ...STEADY, ph, specificConductanceUsPerCm: sc }),
      );
      const result = assess({ criteria: id, readings });
      expect([id, statusOf(result, 'specific-conductance')]).toEqual([id, 'not-stable']);
      expect(result).not.toHaveProperty('firstHeldAt');
    }
  });
});
