import { CONCENTRATION_UNITS } from './concentration-units.ts';
import { CONDUCTIVITY_UNITS } from './conductivity-units.ts';
import { DENSITY_UNITS } from './density-units.ts';
import { FLOW_UNITS } from './flow-units.ts';
import { LENGTH_UNITS } from './length-units.ts';
import { PARTS_UNITS } from './parts-units.ts';
import { ACIDITY_UNITS, POTENTIAL_UNITS } from './potential-units.ts';
import { PRESSURE_UNITS } from './pressure-units.ts';
import { TEMPERATURE_UNITS } from './temperature-units.ts';
import { ANGLE_UNITS, TIME_UNITS } from './time-units.ts';
import { TURBIDITY_UNITS } from './turbidity-units.ts';
import type { Unit } from './unit.ts';
import { VOLUME_UNITS } from './volume-units.ts';

/** Every unit that the trade measures in. */
export const UNITS: readonly Unit[] = [
  ...LENGTH_UNITS,
  ...VOLUME_UNITS,
  ...FLOW_UNITS,
  ...PRESSURE_UNITS,
  ...TEMPERATURE_UNITS,
  ...CONDUCTIVITY_UNITS,
  ...CONCENTRATION_UNITS,
  ...DENSITY_UNITS,
  ...PARTS_UNITS,
  ...POTENTIAL_UNITS,
  ...ACIDITY_UNITS,
  ...TURBIDITY_UNITS,
  ...TIME_UNITS,
  ...ANGLE_UNITS,
];

const BY_CODE: ReadonlyMap<string, Unit> = new Map(UNITS.map((unit) => [unit.code, unit]));
const LONGEST_SUFFIX_FIRST = UNITS.toSorted((a, b) => b.suffix.length - a.suffix.length);

export function unitWithCode(code: string): Unit | undefined {
  return BY_CODE.get(code);
}

/**
 * The unit in which a field is measured, by the end of its name: depthToWaterFt is in feet, flowMlPerMin in millilitres
 * a minute, flowMin would be in minutes. The longest ending that fits decides.
 */
export function unitOfField(fieldName: string): Unit | undefined {
  return LONGEST_SUFFIX_FIRST.find(({ suffix }) => {
    if (!fieldName.endsWith(suffix)) return fieldName === suffix.toLowerCase();
    return /[a-z0-9]$/.test(fieldName.slice(0, -suffix.length));
  });
}
