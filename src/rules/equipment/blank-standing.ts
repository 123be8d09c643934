import { isSameAnalyte } from './analyte-key.ts';
import type { ResultRecord } from './equipment-records.ts';

/**
 * What a blank says of an analyte. Clean: analysed, and nothing that the laboratory reports. Traces: below the reporting
 * limit, with a figure: no failure, and no proof that the gear is clean either.
 */
export type BlankStanding = 'clean' | 'failed' | 'traces' | 'no-result';

function ofResult({ fields }: ResultRecord): BlankStanding {
  const { condition, value } = fields;
  if (condition === 'detected') return 'failed';
  if (condition === 'not-detected') return 'clean';
  if (condition === 'below-reporting-limit') return value ? 'traces' : 'clean';
  return 'no-result';
}

const GRAVEST: readonly BlankStanding[] = ['failed', 'traces', 'clean', 'no-result'];

/** Of several results for one analyte, say of two methods, the gravest counts. */
export function blankStanding(results: readonly ResultRecord[], analyte: ResultRecord['fields']): BlankStanding {
  const standings = results.filter(({ fields }) => isSameAnalyte(fields, analyte)).map(ofResult);
  return GRAVEST.find((one) => standings.includes(one)) ?? 'no-result';
}

/** What a blank says as a whole: one analyte that failed fails it. */
export function wholeStanding(results: readonly ResultRecord[]): BlankStanding {
  const standings = results.map(ofResult);
  return GRAVEST.find((one) => standings.includes(one)) ?? 'no-result';
}
