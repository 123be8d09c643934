import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { decimal } from '../../../src/protocol/primitives.ts';
import { questionNamed } from '../../../src/rules/questions/question-list.ts';
import { unitOfField } from '../../../src/science/units/unit-list.ts';

/** Numbers that have no unit, or whose unit is another field; ampere hours and hPa are converted into nothing. */
const WITHOUT_UNIT = [
  'amount',
  'specificGravity',
  'packPorosity',
  'wellVolumes',
  'limit',
  'batteryCapacityAh',
  'dirtierFactor',
  'stationPressureHpa',
  // of a check in that of its parameter, of a result in that of the report
  'reading',
  'nominal',
  'valueAtTemperature',
  'value',
  'reportingLimit',
  'detectionLimit',
  // how many times it was diluted
  'dilution',
  // their names say hours, which nothing converts
  'handlingHours',
  'holdingHours',
  'extractionHours',
  'extractToAnalysisHours',
  'transitHours',
  // the name of the option that they stand in says hours, or millilitres a minute
  'lowFlow',
  'dryWell',
  'volatiles',
  'bottles',
];
const PATTERN = z.toJSONSchema(decimal).pattern;

/** Names of the fields of a schema that carry a measured decimal, at any depth. */
function measured(schema: unknown, name = ''): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { pattern, properties, items, anyOf } = schema as Record<string, unknown>;
  const inside = Object.entries((properties ?? {}) as object).flatMap(([field, part]) => measured(part, field));
  const arms = Array.isArray(anyOf) ? anyOf.flatMap((part) => measured(part, name)) : [];
  return [...(pattern === PATTERN ? [name] : []), ...inside, ...arms, ...measured(items, name)];
}

const QUESTIONS = [
  'convert-unit',
  'drawdown-forecast',
  'drawdown-rules',
  'flowing-well-level',
  'groundwater-elevation',
  'horizontal-gradient',
  'intake-position',
  'low-yield-well',
  'product-correction',
  'stabilization-forecast',
  'tape-out-of-plumb',
  'tidal-mean-level',
  'vertical-gradient',
  'water-level-repeat',
  'water-lifted-by-pump',
  'well-identity',
  'well-recovery',
  'well-volume',
];

const schemas: readonly (readonly [string, z.ZodType | undefined])[] = [
  ...KINDS.map((kind) => [`kind ${kind.name}`, kind.fields] as const),
  ...QUESTIONS.map((name) => [`question ${name}`, questionNamed(name)?.input] as const),
];

describe('every measured field says its unit in its name', () => {
  it.each(schemas)('%s', (_name, schema) => {
    if (schema === undefined) throw new Error('there is no such question');
    const fields = measured(z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }));
    expect(fields.filter((field) => unitOfField(field) === undefined && !WITHOUT_UNIT.includes(field))).toEqual([]);
  });

  it('finds the fields at all', () => {
    const input = questionNamed('horizontal-gradient')?.input;
    if (input === undefined) throw new Error('there is no such question');
    expect(measured(z.toJSONSchema(input, { io: 'input' }))).toEqual([
      'eastFt',
      'northFt',
      'headFt',
      'roundSpanH',
      'levelErrorFt',
      'gridConvergenceDeg',
    ]);
  });
});
