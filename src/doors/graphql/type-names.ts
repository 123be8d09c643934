import { PARAMETERS } from '../../catalog/parameters.ts';
import { OCCURRENCE_TYPES } from '../../protocol/kinds/occurrence.ts';
import { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../science/arithmetic-names.ts';
import type { Shape } from './shapes.ts';

/** purge-set-up, depthToWater -> PurgeSetUp, DepthToWater */
export function pascal(name: string): string {
  return name.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

/** pump-set-up -> pumpSetUp */
export function camel(name: string): string {
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

/** parameters -> parameter: what one item of a list is called */
export function singular(name: string): string {
  return name.endsWith('ss') || !name.endsWith('s') ? name : name.slice(0, -1);
}

/** Enumerations that several fields share have a name of their own; the others are called after their field. */
const SHARED_ENUMS = new Map<string, string>(
  (
    [
      [PARAMETERS, 'Parameter'],
      [READING_QUANTITY_NAMES, 'ReadingQuantity'],
      [PERCENT_ARITHMETICS, 'PercentArithmetic'],
      [ABSOLUTE_ARITHMETICS, 'AbsoluteArithmetic'],
      [OCCURRENCE_TYPES, 'OccurrenceType'],
      [['plan', 'set', 'default'], 'ChosenBy'],
      [['met', 'not-met', 'not-known', 'not-a-condition'], 'ConditionStatus'],
    ] satisfies [readonly string[], string][]
  ).map(([values, name]) => [values.join(' '), name]),
);

export function enumTypeName(values: readonly string[], path: string): string {
  return SHARED_ENUMS.get(values.join(' ')) ?? path;
}

/** Objects that mean the same wherever they stand. */
const SHARED_OBJECTS: Readonly<Record<string, string>> = {
  'at entered captured readBy writtenBy': 'Observed',
  'value record by client mutation': 'Rival',
  'criteria stabilization': 'EventPlan',
};

export function objectTypeName(shape: Extract<Shape, { type: 'object' }>, path: string): string {
  return SHARED_OBJECTS[shape.fields.map((field) => field.name).join(' ')] ?? path;
}
