import { z } from 'zod';
import { id } from '../../protocol/primitives.ts';
import type { Carrier } from '../equipment/carrier.ts';
import { SAMPLE_STANDINGS } from '../equipment/judged-sample.ts';
import type { ToldNames } from './told-names.ts';

export const CARRIER_KINDS = ['unit', 'part'] as const satisfies readonly Carrier['kind'][];

/** What carried water from one well to another. */
export const carrierOutput = z.strictObject({
  kind: z.enum(CARRIER_KINDS),
  id,
  name: z.string().nullable(),
});
export type CarrierTold = z.output<typeof carrierOutput>;

export function carrierTold({ kind, id: of }: Carrier, names: ToldNames): CarrierTold {
  return { kind, id: of, name: kind === 'unit' ? names.unit(of) : names.part(of) };
}

export const judgementFields = {
  standing: z.enum(SAMPLE_STANDINGS),
  sentence: z.string().describe('Why'),
} as const;

/** Where a sample stands for one analyte. */
export const judgedAnalyteOutput = z.strictObject({
  analyte: z.string(),
  casNumber: z.string().nullable(),
  ...judgementFields,
});
