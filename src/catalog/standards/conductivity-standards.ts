import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { lastPlace } from '../../science/units/decimal-step.ts';
import { decimalFraction, dividedBy, times } from '../../science/units/fraction.ts';
import { textAtPlace } from '../../science/units/fraction-text.ts';
import { type AtTemperature, atTemperature } from './at-temperature.ts';
import {
  BOTTLED_STANDARDS,
  type BottledStandard,
  type ConductivityTable,
  POTASSIUM_CHLORIDE_1_MOLAL,
  POTASSIUM_CHLORIDE_01_MOLAL,
  POTASSIUM_CHLORIDE_001_MOLAL,
} from './potassium-chloride.ts';

const MOLAL = {
  'potassium-chloride-001-molal': POTASSIUM_CHLORIDE_001_MOLAL,
  'potassium-chloride-01-molal': POTASSIUM_CHLORIDE_01_MOLAL,
  'potassium-chloride-1-molal': POTASSIUM_CHLORIDE_1_MOLAL,
} as const;

export const CONDUCTIVITY_STANDARD_IDS = [
  'bottled-1413',
  'bottled-12880',
  'potassium-chloride-001-molal',
  'potassium-chloride-01-molal',
  'potassium-chloride-1-molal',
] as const;
export type ConductivityStandardId = (typeof CONDUCTIVITY_STANDARD_IDS)[number];

export interface ConductivityStandardValue extends AtTemperature {
  readonly name: string;
  /** What the label says, at 25 °C. */
  readonly at25UsPerCm: string;
  readonly source: string;
  readonly verified: boolean;
}

function bottled(standard: BottledStandard, temperatureC: string): ConductivityStandardValue | Refusal {
  const { at25UsPerCm, course, name, source, verified } = standard;
  const now = atTemperature(course, temperatureC);
  if (isRefusal(now)) return now;
  const exact = times(decimalFraction(at25UsPerCm), dividedBy(now.exact, decimalFraction(course.at25UsPerCm)));
  const text = textAtPlace(exact, lastPlace(at25UsPerCm));
  const how = `${at25UsPerCm} times ${now.text} / ${course.at25UsPerCm} of ${course.name}, ${now.how}`;
  return { text, exact, how, name, at25UsPerCm, source, verified };
}

function molal(table: ConductivityTable, temperatureC: string): ConductivityStandardValue | Refusal {
  const now = atTemperature(table, temperatureC);
  if (isRefusal(now)) return now;
  const { name, at25UsPerCm, source, verified } = table;
  return { ...now, name, at25UsPerCm, source, verified };
}

/** What a standard says of itself, at 25 °C. */
export function conductivityLabel(id: ConductivityStandardId): BottledStandard | ConductivityTable {
  return id === 'bottled-1413' || id === 'bottled-12880' ? BOTTLED_STANDARDS[id] : MOLAL[id];
}

/**
 * The conductivity that a standard has at a temperature, before any compensation, in µS/cm.
 *
 * Source: NIST values for potassium chloride (see each table); a bottled molar standard follows their course from the
 * value of its label. Limits: 0 to 35 °C; other strengths have no table here and are known at 25 °C only.
 *
 * @example conductivityStandardAt('bottled-1413', '35') // text: '1694'
 */
export function conductivityStandardAt(
  id: ConductivityStandardId,
  temperatureC: string,
): ConductivityStandardValue | Refusal {
  const standard = conductivityLabel(id);
  return 'course' in standard ? bottled(standard, temperatureC) : molal(standard, temperatureC);
}
