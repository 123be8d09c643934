import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AtTemperature, atTemperature } from '../../../src/catalog/standards/at-temperature.ts';
import { ZOBELL_WITH_4_MOLAR } from '../../../src/catalog/standards/check-solution-table.ts';
import {
  CONDUCTIVITY_STANDARD_IDS,
  conductivityStandardAt,
} from '../../../src/catalog/standards/conductivity-standards.ts';
import { NATURAL_WATER_FACTORS } from '../../../src/catalog/standards/natural-water-factors.ts';
import { PH_BUFFER_IDS, PH_BUFFERS } from '../../../src/catalog/standards/ph-buffers.ts';
import {
  POTASSIUM_CHLORIDE_1_MOLAL,
  POTASSIUM_CHLORIDE_01_MOLAL,
  POTASSIUM_CHLORIDE_001_MOLAL,
} from '../../../src/catalog/standards/potassium-chloride.ts';
import { REFERENCE_ELECTRODE_IDS, REFERENCE_ELECTRODES } from '../../../src/catalog/standards/reference-electrodes.ts';
import type { StandardTable } from '../../../src/catalog/standards/standard-table.ts';
import { ZOBELL_STANDARD_METHODS, zobellAt } from '../../../src/catalog/standards/zobell-tables.ts';
import { phthalatePh } from '../../../src/science/ph/phthalate-ph.ts';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a value');

function text(result: AtTemperature | Refusal): string {
  if (isRefusal(result)) throw new Error(result.refused);
  return result.text;
}

const TABLES: readonly StandardTable[] = [
  NATURAL_WATER_FACTORS,
  POTASSIUM_CHLORIDE_001_MOLAL,
  POTASSIUM_CHLORIDE_01_MOLAL,
  POTASSIUM_CHLORIDE_1_MOLAL,
  ZOBELL_STANDARD_METHODS,
  ZOBELL_WITH_4_MOLAR,
  ...Object.values(PH_BUFFERS),
  ...Object.values(REFERENCE_ELECTRODES),
];

describe('every table', () => {
  it.each(TABLES.map((table) => [table.id, table] as const))(
    '%s names its source and rises in temperature',
    (_id, table) => {
      expect(table.source.length).toBeGreaterThan(10);
      expect(table.source.includes('from memory')).toBe(!table.verified);
      const celsius = table.points.map(([at]) => Number(at));
      expect(celsius).toEqual([...new Set(celsius)].toSorted((a, b) => a - b));
    },
  );

  it.each(TABLES.map((table) => [table.id, table] as const))('%s gives back what it prints', (_id, table) => {
    for (const [celsius, value] of table.points) expect(text(atTemperature(table, celsius))).toBe(value);
  });

  it('is read on a straight line in between, as a second way in binary numbers says', () => {
    const dense = TABLES.filter((table) => table.points.length > 4);
    fc.assert(
      fc.property(fc.constantFrom(...dense), fc.nat(), fc.integer({ min: 1, max: 9 }), (table, at, tenth) => {
        const index = at % (table.points.length - 1);
        const [low, high] = [table.points[index], table.points[index + 1]];
        if (low === undefined || high === undefined) throw new Error('no such points');
        const celsius = Number(low[0]) + ((Number(high[0]) - Number(low[0])) * tenth) / 10;
        const value = Number(low[1]) + ((Number(high[1]) - Number(low[1])) * tenth) / 10;
        const found = atTemperature(table, String(Number(celsius.toFixed(6))));
        const step = 10 ** -Math.min(...[low, high].map(([, one]) => one.split('.')[1]?.length ?? 0));
        expect(Math.abs(Number(text(found)) - value)).toBeLessThanOrEqual(step / 2 + 1e-9);
      }),
    );
  });

  it('says nothing beyond its ends, across a wide gap, or of what is no number', () => {
    expect(why(atTemperature(PH_BUFFERS['phosphate-686'], '-0.1'))).toContain('from 0 to 40 °C');
    expect(why(atTemperature(PH_BUFFERS['phosphate-686'], '40.1'))).toContain('from 0 to 40 °C');
    expect(why(atTemperature(PH_BUFFERS['technical-1001'], '30'))).toContain('would be a guess');
    expect(text(atTemperature(PH_BUFFERS['technical-1001'], '22.5'))).toBe('10.04');
    expect(why(atTemperature(REFERENCE_ELECTRODES['silver-chloride-4-molar'], '20'))).toContain('at 25 °C only');
    expect(why(atTemperature(PH_BUFFERS['phosphate-686'], 'cold'))).toContain('"cold"');
  });
});

describe('pH buffers', () => {
  it('are known by recipe: a technical 7.00 is not the phosphate of 6.86', () => {
    for (let celsius = 0; celsius <= 40; celsius += 5) {
      const technical = Number(text(atTemperature(PH_BUFFERS['technical-700'], String(celsius))));
      const phosphate = Number(text(atTemperature(PH_BUFFERS['phosphate-686'], String(celsius))));
      expect(technical - phosphate).toBeGreaterThan(0.13);
      expect(technical - phosphate).toBeLessThan(0.151);
    }
  });

  it('at 12.5 °C has pH 6.91, and the technical 7.00 has 7.05', () => {
    expect(text(atTemperature(PH_BUFFERS['phosphate-686'], '12.5'))).toBe('6.91');
    expect(text(atTemperature(PH_BUFFERS['technical-700'], '12.5'))).toBe('7.05');
  });

  // Hetzer, Durst, Robinson and Bates 1977: an equation made elsewhere than the table.
  it('of phthalate agree with the equation of the primary standard within 0.01', () => {
    for (const [celsius, ph] of PH_BUFFERS['phthalate-401'].points)
      expect(Math.abs(Number(phthalatePh(Number(celsius))) - Number(ph))).toBeLessThan(0.01);
  });

  it('stand under their own names', () => {
    for (const id of PH_BUFFER_IDS) expect(PH_BUFFERS[id].id).toBe(id);
  });
});

describe('conductivity standards', () => {
  it('the bottled 1413 follows the course of the table from its own label', () => {
    expect(text(conductivityStandardAt('bottled-1413', '25'))).toBe('1413');
    expect(text(conductivityStandardAt('bottled-1413', '10'))).toBe('1017');
    expect(text(conductivityStandardAt('bottled-12880', '25'))).toBe('12880');
  });

  it('at 35 °C the bottled 1413 has 1,694 and not the 1,667 that a table of a third party prints', () => {
    expect(text(conductivityStandardAt('bottled-1413', '35'))).toBe('1694');
    expect((1413 * 1687.79) / 1408.23).toBeCloseTo(1693.5, 1);
    expect(Math.abs(1667 / 1693.5 - 1)).toBeGreaterThan(0.015);
  });

  it('mol per litre conducts 0.3 % more than mol per kilogram', () => {
    const molal = conductivityStandardAt('potassium-chloride-001-molal', '25');
    expect(text(molal)).toBe('1408.23');
    expect(1413 / 1408.23 - 1).toBeCloseTo(0.0034, 4);
  });

  // Computed from the NIST values: 1.87 %/°C at 10, 1.91 at 18, 1.97 at 30.
  it.each([
    ['10', 1.87],
    ['18', 1.91],
    ['30', 1.97],
  ])('0.01 mol/kg changes between %s and 25 °C by %s %% per °C', (celsius, alpha) => {
    const value = Number(text(conductivityStandardAt('potassium-chloride-001-molal', celsius)));
    expect((100 * (value / 1408.23 - 1)) / (Number(celsius) - 25)).toBeCloseTo(alpha, 2);
  });

  it.each(CONDUCTIVITY_STANDARD_IDS)('%s has at 25 °C what it says of itself, and nothing above 35 °C', (id) => {
    const value = conductivityStandardAt(id, '25');
    if (isRefusal(value)) throw new Error(value.refused);
    expect(value.text).toBe(value.at25UsPerCm);
    expect(why(conductivityStandardAt(id, '35.1'))).toContain('to 35 °C');
  });
});

describe('reference electrodes', () => {
  it('the instrument table headed 3 mol/L is the column of 3.3 mol/L, not that of 3', () => {
    const headed3 = REFERENCE_ELECTRODES['silver-chloride-instrument-table-3-molar'];
    for (const celsius of ['10', '15', '20', '25', '30']) {
      const printed = text(atTemperature(headed3, celsius));
      expect(printed).toBe(text(atTemperature(REFERENCE_ELECTRODES['silver-chloride-3-3-molar'], celsius)));
      expect(printed).not.toBe(text(atTemperature(REFERENCE_ELECTRODES['silver-chloride-3-molar'], celsius)));
    }
  });

  it('have less potential the more chloride they hold', () => {
    for (const celsius of ['10', '15', '20', '25', '30']) {
      const row = ['3-molar', '3-3-molar', '3-5-molar', 'saturated'] as const;
      const values = row.map((id) =>
        Number(text(atTemperature(REFERENCE_ELECTRODES[`silver-chloride-${id}`], celsius))),
      );
      expect(values).toEqual(values.toSorted((a, b) => b - a));
    }
  });

  it('stand under their own names', () => {
    for (const id of REFERENCE_ELECTRODE_IDS) expect(REFERENCE_ELECTRODES[id].id).toBe(id);
  });
});

describe("ZoBell's solution", () => {
  const eh = (table: Parameters<typeof zobellAt>[0], celsius: string) => {
    const value = zobellAt(table, celsius);
    if (isRefusal(value)) throw new Error(value.refused);
    return Number(value.ehMv);
  };

  // Standard Methods 2580 (read in a copy) beside Nordstrom 1977 (computed).
  it.each([
    ['5', 472, 7.1],
    ['10', 461, 6.2],
    ['15', 450, 5.1],
    ['20', 439, 3.8],
    ['25', 428, 2.3],
    ['30', 417, 0.6],
  ])('at %s °C has %s mV by Standard Methods and %s mV more by Nordstrom', (celsius, mv, more) => {
    expect(eh('standard-methods-2580', celsius)).toBe(mv);
    expect(eh('nordstrom-1977', celsius) - mv).toBeCloseTo(more, 1);
  });

  it('by the short form equals the table of Standard Methods within 1 mV from 10 to 30 °C', () => {
    for (let celsius = 10; celsius <= 30; celsius += 1) {
      const apart = Math.abs(eh('linear', String(celsius)) - eh('standard-methods-2580', String(celsius)));
      expect(apart).toBeLessThanOrEqual(celsius % 5 === 0 ? 0 : 1);
    }
  });

  it('names which form it is and whether it was read, and refuses what the form does not reach', () => {
    expect(zobellAt('nordstrom-1977', '15')).toMatchObject({
      verified: false,
      name: expect.stringContaining('Nordstrom'),
    });
    expect(zobellAt('standard-methods-2580', '15')).toMatchObject({ verified: true });
    expect(zobellAt('linear', '15')).toMatchObject({ verified: true });
    expect(why(zobellAt('standard-methods-2580', '31'))).toContain('from 1 to 30 °C');
    expect(why(zobellAt('linear', '5'))).toContain('outside 10 to 30');
    expect(why(zobellAt('nordstrom-1977', 'warm'))).toContain('"warm"');
  });

  it('with a 4 mol/L electrode falls by 1.3 mV per °C in its instrument table', () => {
    const values = ZOBELL_WITH_4_MOLAR.points.map(([, value]) => Number(value));
    for (const [at, value] of values.slice(1).entries()) expect((values[at] ?? 0) - value).toBeCloseTo(6.5, 9);
  });
});
