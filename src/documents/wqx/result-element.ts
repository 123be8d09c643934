import { type Filling, type Shaped, shape } from './element.ts';
import type { WqxMeasure, WqxMethod, WqxResult } from './wqx-facts.ts';
import { CONDITIONS, FRACTIONS, listedUnit, QUALIFIERS, QUANTITIES, STATUSES, VALUE_TYPES } from './wqx-lists.ts';
import { RESULT } from './wqx-schema.ts';
import { wqxTime } from './wqx-times.ts';

/** A figure of the exchange: plain digits, with a sign where it is below zero. */
const FIGURE = /^-?\d+(?:\.\d+)?$/;

export function methodFilling(method: WqxMethod | undefined): Filling {
  return (
    method && { MethodIdentifier: method.identifier, MethodIdentifierContext: method.context, MethodName: method.name }
  );
}

/** Parts of a measure whose unit is on the list. */
export function measureFilling(measure: WqxMeasure | undefined): Filling {
  return measure && { MeasureValue: measure.value, MeasureUnitCode: listedUnit(measure.unit) };
}

/** Why a measure cannot be exported. */
export function measureFaults(measure: WqxMeasure | undefined, what: string): readonly string[] {
  if (!measure) return [];
  return [
    ...(FIGURE.test(measure.value) ? [] : [`${what} "${measure.value}" is no figure`]),
    ...(listedUnit(measure.unit) ? [] : [`the unit "${measure.unit}" of ${what} is not on the list of units`]),
  ];
}

function named({ of, unit, temperatureBasis }: WqxResult): {
  readonly name?: string;
  readonly unit?: string;
  readonly basis?: string;
} {
  if ('quantity' in of) return (Object.hasOwn(QUANTITIES, of.quantity) ? QUANTITIES[of.quantity] : undefined) ?? {};
  return {
    ...(of.characteristic && { name: of.characteristic }),
    ...(unit !== undefined && { unit }),
    ...(temperatureBasis !== undefined && { basis: temperatureBasis }),
  };
}

function listed(value: string | undefined, list: readonly string[], what: string): readonly string[] {
  return value === undefined || list.includes(value) ? [] : [`"${value}" is not on the list of ${what}`];
}

function nameFaults({ of }: WqxResult, name: string | undefined): readonly string[] {
  if (name) return [];
  if ('quantity' in of) return [`the list of characteristics has no name for ${of.quantity} in its unit`];
  return [`no name of the list of characteristics is known for "${of.analyte}"`];
}

/** "UJ" is told as U with a comment: it is no code of the list, and leaving it out would say something else. */
function qualified(result: WqxResult): { readonly codes: readonly string[]; readonly comment: string | undefined } {
  const given = result.qualifiers ?? [];
  if (!given.includes('UJ')) return { codes: given, comment: result.comment };
  const note = 'Qualifier UJ as reported: not detected, and the limit is an estimate.';
  const codes = [...new Set(given.map((code) => (code === 'UJ' ? 'U' : code)))];
  return { codes, comment: result.comment ? `${result.comment} ${note}` : note };
}

function faultsOf(result: WqxResult, needsMethod: boolean): readonly string[] {
  const { name, unit } = named(result);
  const { value, condition, method, limits = [] } = result;
  return [
    ...nameFaults(result, name),
    ...(value === undefined && condition === undefined ? ['there is neither a value nor a detection condition'] : []),
    ...(value === undefined ? [] : measureFaults({ value, unit: unit ?? '' }, 'the result')),
    ...(value === undefined && condition !== undefined && limits.length === 0
      ? ['a result without a value names no limit']
      : []),
    ...(needsMethod && !method ? ['this type of activity asks for an analytical method'] : []),
    ...listed(condition, CONDITIONS, 'detection conditions'),
    ...listed(result.fraction, FRACTIONS, 'sample fractions'),
    ...listed(result.status, STATUSES, 'result statuses'),
    ...listed(result.valueType, VALUE_TYPES, 'value types'),
    ...qualified(result).codes.flatMap((code) => listed(code, QUALIFIERS, 'qualifiers')),
    ...limits.flatMap(({ measure }) => measureFaults(measure, 'a limit')),
  ];
}

function laboratoryFilling({ laboratory, analyzed, limits = [] }: WqxResult): Filling {
  const at = analyzed && wqxTime(analyzed);
  return {
    LaboratoryName: laboratory,
    AnalysisStartDate: at?.date,
    AnalysisStartTime: at?.time,
    ResultDetectionQuantitationLimit: limits.map(({ type, measure }) => ({
      DetectionQuantitationLimitTypeName: type,
      DetectionQuantitationLimitMeasure: measureFilling(measure),
    })),
  };
}

/** One result in the elements of the schema, and why it cannot be exported, if it cannot. */
export function resultElement(result: WqxResult, needsMethod: boolean): Shaped {
  const { name, unit, basis } = named(result);
  const { codes, comment } = qualified(result);
  const { elements, faults } = shape(RESULT, {
    ResultDescription: {
      ResultDetectionConditionText: result.condition,
      CharacteristicName: name,
      ResultSampleFractionText: result.fraction,
      ResultMeasure: {
        ResultMeasureValue: result.value,
        MeasureUnitCode: result.value === undefined ? undefined : listedUnit(unit ?? ''),
        MeasureQualifierCode: codes,
      },
      ResultStatusIdentifier: result.status,
      ResultValueTypeName: result.valueType,
      ResultTemperatureBasisText: basis,
      ResultCommentText: comment,
    },
    ResultAnalyticalMethod: methodFilling(result.method),
    ResultLabInformation: laboratoryFilling(result),
  });
  return { elements, faults: [...faultsOf(result, needsMethod), ...faults] };
}
