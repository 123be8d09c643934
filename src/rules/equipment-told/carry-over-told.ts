import { z } from 'zod';
import type { CarryOver } from '../equipment/carried-over.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { carrierOutput, carrierTold, judgedAnalyteOutput, judgementFields } from './carrier-told.ts';
import type { Sight } from './sight.ts';
import { asEntered, maybeRecordId, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

const carriedSampleOutput = z.strictObject({
  sample: recordId('sample'),
  number: z.string(),
  ...judgementFields,
  analytes: z.array(judgedAnalyteOutput).describe('Empty where no result is here yet'),
});

/** A unit or a soft part that came into a well with the water of another on it, by its records. */
export const carryOverOutput = z.strictObject({
  carrier: carrierOutput,
  visit: recordId('visit'),
  well: recordId('well'),
  wellName: z.string(),
  from: asEntered,
  fromWells: z
    .array(z.strictObject({ well: recordId('well'), name: z.string() }))
    .describe('Since it was last clean; the last come first'),
  decon: maybeRecordId('decon').describe('In between, which does not make it clean'),
  samples: z.array(carriedSampleOutput),
  sentence: z.string(),
});
export type CarryOverTold = z.output<typeof carryOverOutput>;

/** Those in visits that the reader may be told of. */
export function carryOversTold(
  index: EquipmentIndex,
  found: readonly CarryOver[],
  names: ToldNames,
  sight: Sight,
): readonly CarryOverTold[] {
  return found
    .filter(({ visit }) => sight.sees(index.visits.get(visit)?.event))
    .map(({ carrier, visit, well, from, fromWells, decon, samples, sentence }) => ({
      carrier: carrierTold(carrier, names),
      visit,
      well,
      wellName: names.well(well),
      from,
      fromWells: fromWells.map((one) => ({ well: one, name: names.well(one) })),
      decon,
      samples: samples.map((sample) => ({ ...sample, analytes: [...sample.analytes] })),
      sentence,
    }));
}
