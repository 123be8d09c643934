import { isSameAnalyte } from '../decon/analyte-key.ts';
import { type Amount, decimalOf, isAtMost } from '../decon/analyte-result.ts';
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

/** What would have shown in it: a blank proves nothing of less than its reporting limit. */
function wouldShow({ fields }: ResultRecord, amount: Amount): boolean {
  const limit = decimalOf(fields.reportingLimit);
  return limit !== null && isAtMost({ value: limit, unit: fields.unit }, amount);
}

/**
 * Of several results for one analyte, say of two methods, the gravest counts.
 *
 * @param proofOf amounts that would have to show in it: clean above them, it is no proof, and counts as no result
 */
export function blankStanding(
  results: readonly ResultRecord[],
  analyte: Pick<ResultRecord['fields'], 'analyte' | 'casNumber'>,
  proofOf: readonly Amount[] = [],
): BlankStanding {
  const standings = results
    .filter(({ fields }) => isSameAnalyte(fields, analyte))
    .map((result) => {
      const standing = ofResult(result);
      return standing === 'clean' && !proofOf.every((amount) => wouldShow(result, amount)) ? 'no-result' : standing;
    });
  return GRAVEST.find((one) => standings.includes(one)) ?? 'no-result';
}

/** What a blank says as a whole: one analyte that failed fails it. */
export function wholeStanding(results: readonly ResultRecord[]): BlankStanding {
  const standings = results.map(ofResult);
  return GRAVEST.find((one) => standings.includes(one)) ?? 'no-result';
}
