import { z } from 'zod';
import { text } from '../../protocol/primitives.ts';
import { wholeStanding } from '../equipment/blank-standing.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { type JudgeByBlank, SAMPLE_STANDINGS } from '../equipment/judged-sample.ts';
import { type BlankTrail, type SampleBehindBlank, samplesBehindBlank } from '../equipment/samples-behind-blank.ts';
import { carrierOutput, carrierTold, judgementFields } from './carrier-told.ts';
import { OUT_OF_SIGHT, type Sight } from './sight.ts';
import { BLANK_STANDINGS, count, maybeRecordId, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

/** Samples of one analyte that are listed; those in question come first, so that what is cut off is cleared. */
const MOST_SAMPLES = 1_000;
const USUAL_SAMPLES = 200;

export const blankSamplesInput = z.strictObject({
  analyte: text().optional().describe('Only this one: its CAS number, or its name as the laboratory gave it'),
  limit: z.coerce.number().int().min(1).max(MOST_SAMPLES).default(USUAL_SAMPLES).describe('Samples of each analyte'),
});
export type BlankSamplesGiven = z.output<typeof blankSamplesInput>;

const sampleOutput = z.strictObject({
  sample: recordId('sample'),
  number: z.string(),
  visit: recordId('visit'),
  well: recordId('well'),
  wellName: z.string(),
  through: z.array(carrierOutput).describe('What it shares with the blank'),
  ...judgementFields,
});

const analyteOutput = z.strictObject({
  analyte: z.string(),
  casNumber: z.string().nullable(),
  sentence: z.string(),
  lastClean: maybeRecordId('blank').describe('The clean blank before it, for this analyte'),
  nextClean: maybeRecordId('blank').describe('The clean blank after it'),
  inQuestion: count,
  cannotTell: count,
  cleared: count,
  notAsked: count.describe('Taken with the same gear and for other suites only'),
  samples: z
    .array(sampleOutput)
    .describe('Those in question first, then those that cannot be told, then those cleared'),
  leftOut: count.describe('Beyond the limit'),
  outOfSight: count.describe(`Counted above. ${OUT_OF_SIGHT}`),
});

/** What a blank that failed makes of the samples taken with the same gear. */
export const blankSamplesOutput = z.strictObject({
  blank: recordId('blank'),
  number: z.string(),
  unit: maybeRecordId('unit').describe('Null where it was taken through none'),
  standing: z.enum(BLANK_STANDINGS).describe('Of the blank'),
  sentence: z.string(),
  analytes: z.array(analyteOutput).describe('That were found in it'),
});
export type BlankSamplesTold = z.output<typeof blankSamplesOutput>;

function inOrder(samples: readonly SampleBehindBlank[]): readonly SampleBehindBlank[] {
  return SAMPLE_STANDINGS.flatMap((standing) => samples.filter((sample) => sample.standing === standing));
}

interface Told {
  readonly index: EquipmentIndex;
  readonly names: ToldNames;
  readonly sight: Sight;
}

function analyteTold(trail: BlankTrail, limit: number, { index, names, sight }: Told) {
  const { analyte, casNumber, sentence, lastClean, nextClean, counts, notAsked } = trail;
  const seen = inOrder(trail.samples).filter(({ visit }) => sight.sees(index.visits.get(visit)?.event));
  return {
    analyte,
    casNumber,
    sentence,
    lastClean,
    nextClean,
    ...counts,
    notAsked: notAsked.length,
    samples: seen.slice(0, limit).map(({ sample, number, visit, well, through, standing, sentence: why }) => ({
      sample,
      number,
      visit,
      well,
      wellName: names.well(well),
      through: through.map((one) => carrierTold(one, names)),
      standing,
      sentence: why,
    })),
    leftOut: Math.max(seen.length - limit, 0),
    outOfSight: trail.samples.length - seen.length,
  };
}

function isAsked(asked: string | undefined, { analyte, casNumber }: BlankTrail): boolean {
  if (asked === undefined) return true;
  return casNumber === asked || analyte.trim().toLowerCase() === asked.trim().toLowerCase();
}

function sentenceOf(number: string, standing: BlankSamplesTold['standing'], isThroughUnit: boolean): string {
  if (!isThroughUnit) return `${number} was taken through no unit: it says nothing of one.`;
  if (standing === 'failed')
    return `${number} failed: each analyte that was found in it says which samples are in question.`;
  if (standing === 'clean') return `${number} is clean: no sample is in question because of it.`;
  if (standing === 'traces')
    return `${number} shows traces below the reporting limit: that is no failure, and no proof that the gear was clean.`;
  return `No result of ${number} is here yet.`;
}

/** @param blank its number, and the unit through which it was taken */
export function blankSamplesTold(
  blank: { readonly id: string; readonly number: string; readonly unit: string | null },
  judge: JudgeByBlank,
  { analyte, limit }: BlankSamplesGiven,
  told: Told,
): BlankSamplesTold {
  const standing = wholeStanding(told.index.resultsOfBlank.get(blank.id) ?? []);
  const trails = samplesBehindBlank(told.index, blank.id, judge).filter((trail) => isAsked(analyte, trail));
  return {
    blank: blank.id,
    number: blank.number,
    unit: blank.unit,
    standing,
    sentence: sentenceOf(blank.number, standing, blank.unit !== null),
    analytes: trails.map((trail) => analyteTold(trail, limit, told)),
  };
}
