import { compareText } from '../../../science/units/decimal-arithmetic.ts';
import type { BlankRecord, SampleRecord } from '../../samples/sample-records.ts';
import type { ResultLine } from './result-line.ts';

/** An activity is told less what is counted without a sample, and may come out below zero; a mass in a volume is not. */
const MASS_IN_VOLUME = /^[a-zµμ]?g\/[a-zµμ]?l$/i;

/** What a line says that can be so and hardly is: a mass below zero, an analysis of what is only measured for its temperature. */
export function unlikelyNote(of: SampleRecord | BlankRecord, { cells, value }: ResultLine): string | null {
  if (of.kind === 'blank' && of.fields.type === 'temperature') {
    return 'this is a temperature blank, which is measured when the cooler is opened and not analysed; compare the number with the report';
  }
  if (value === undefined || compareText(value, '0') >= 0 || !MASS_IN_VOLUME.test(cells.unit ?? '')) return null;
  return 'it is below zero, which no mass in a volume is: compare it with the report; of what was not detected leave the value empty, with the qualifier U and the limit';
}
