import type { WqxLimit, WqxMethod, WqxResult } from '../../documents/wqx/wqx-facts.ts';
import type { ResultRecord } from '../../rules/samples/sample-records.ts';

/** What is known of the laboratory side, beside the records. */
export interface ResultsAsked {
  readonly characteristics: ReadonlyMap<string, string>;
  readonly methodContext: string | undefined;
  readonly laboratory: string | undefined;
  /** By whose clock an analysis is told. */
  readonly timeZone: string;
}

type Fields = ResultRecord['fields'];

const WITHOUT_VALUE: Readonly<Record<Fields['condition'], string | undefined>> = {
  detected: 'Detected Not Quantified',
  'not-detected': 'Not Detected',
  'below-reporting-limit': 'Below Reporting Limit',
  'not-reported': 'Not Reported',
};

function limitsOf({ reportingLimit, detectionLimit, unit }: Fields): readonly WqxLimit[] {
  const limit = (type: string, value: string | undefined): readonly WqxLimit[] =>
    value === undefined ? [] : [{ type, measure: { value, unit } }];
  return [...limit('Laboratory Reporting Level', reportingLimit), ...limit('Method Detection Level', detectionLimit)];
}

function methodOf(method: string | undefined, context: string | undefined): WqxMethod | undefined {
  return method === undefined || context === undefined ? undefined : { identifier: method, context };
}

/** A result of a laboratory as its report says; what was only seen below the reporting limit is told as an estimate. */
export function wqxResult({ id, fields }: ResultRecord, asked: ResultsAsked): WqxResult {
  const { casNumber, analyte, value, condition, qualifiers, method, analyzed, remark } = fields;
  const characteristic =
    asked.characteristics.get((casNumber ?? '').toLowerCase()) ?? asked.characteristics.get(analyte.toLowerCase());
  const cited = methodOf(method, asked.methodContext);
  const isValue = value !== undefined && condition !== 'not-detected' && condition !== 'not-reported';
  const withoutValue = WITHOUT_VALUE[condition];
  return {
    id,
    of: { characteristic, analyte },
    unit: fields.unit,
    status: 'Preliminary',
    valueType: condition === 'below-reporting-limit' ? 'Estimated' : 'Actual',
    limits: limitsOf(fields),
    ...(isValue ? { value } : withoutValue === undefined ? {} : { condition: withoutValue }),
    ...(qualifiers === undefined ? {} : { qualifiers }),
    ...(cited === undefined ? {} : { method: cited }),
    ...(asked.laboratory === undefined ? {} : { laboratory: asked.laboratory }),
    ...(analyzed === undefined ? {} : { analyzed: { at: analyzed, timeZone: asked.timeZone } }),
    ...(remark === undefined ? {} : { comment: remark }),
  };
}
