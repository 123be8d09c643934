import { z } from 'zod';
import { UNIT_STATES } from '../../protocol/kinds/unit-state.ts';
import { USES } from '../../protocol/kinds/unit-use.ts';
import { classesOfSuites } from '../decon/classes-of-suites.ts';
import { type CarryOver, carriedOver } from '../equipment/carried-over.ts';
import { carrierName } from '../equipment/carrier.ts';
import { type CarrierBehind, type SampleTrail, trailOfSample } from '../equipment/contamination-trail.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import type { BlankRecord } from '../equipment/equipment-records.ts';
import { gravest, type JudgeByBlank, type Judgement } from '../equipment/judged-sample.ts';
import { type OpenClasses, openSentence } from '../equipment/open-classes.ts';
import { samplesBehindBlank } from '../equipment/samples-behind-blank.ts';
import { carrierOutput, carrierTold, judgementFields } from './carrier-told.ts';
import { carryOverOutput, carryOversTold } from './carry-over-told.ts';
import { SEES_ALL, type Sight } from './sight.ts';
import { asEntered, maybeEntered, maybeRecordId, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

const behindOutput = z.strictObject({
  carrier: carrierOutput,
  unit: recordId('unit').describe('That was at the well: of a soft part the one that it was on'),
  how: z.enum(USES),
  from: asEntered,
  until: maybeEntered,
  foundIn: z.enum(UNIT_STATES).describe('The state of the unit as it went in'),
  isClean: z.boolean().describe('Whether it went in clean'),
  wellBefore: maybeRecordId('well').describe('Where it was last before'),
  wellBeforeName: z.string().nullable(),
  decons: z.array(z.uuid()).describe('Since then, whether or not they make it clean'),
  rinsateBefore: maybeRecordId('blank'),
  rinsateAfter: maybeRecordId('blank'),
});

const blankOutput = z.strictObject({
  blank: recordId('blank'),
  number: z.string(),
  analyte: z.string(),
  casNumber: z.string().nullable(),
  ...judgementFields,
});

/** From a sample back to the gear that it passed, and where it stands by the blanks and wells behind that. */
export const sampleTrailOutput = z.strictObject({
  sample: recordId('sample'),
  number: z.string(),
  visit: recordId('visit'),
  well: recordId('well'),
  wellName: z.string(),
  ...judgementFields,
  behind: z.array(behindOutput).describe('Each unit, and each soft part that was on it'),
  blanks: z.array(blankOutput).describe('Blanks that failed, between which and a clean one it was taken, by analyte'),
  carriedOver: z.array(carryOverOutput).describe('Gear that came here with the water of another well on it'),
});
export type SampleTrailTold = z.output<typeof sampleTrailOutput>;

interface Told {
  readonly index: EquipmentIndex;
  readonly names: ToldNames;
  readonly sight: Sight;
  readonly judgeOf: (blank: BlankRecord) => JudgeByBlank;
}

/** What was done before in an event that the reader does not follow stays out of sight; that the gear was clean is told. */
function behindTold(behind: CarrierBehind, { index, names, sight }: Told): z.output<typeof behindOutput> {
  const { carrier, unit, how, from, until, foundIn, isClean, wellBefore, decons } = behind;
  const before = wellBefore && sight.sees(index.visits.get(wellBefore.visit)?.event) ? wellBefore.well : null;
  const rinsate = (id: string | null) => (id && sight.sees(index.rinsates.get(id)?.record.fields.event) ? id : null);
  return {
    carrier: carrierTold(carrier, names),
    unit,
    how,
    from,
    until,
    foundIn,
    isClean,
    wellBefore: before,
    wellBeforeName: before === null ? null : names.well(before),
    decons: [...decons],
    rinsateBefore: rinsate(behind.rinsateBefore),
    rinsateAfter: rinsate(behind.rinsateAfter),
  };
}

/** The blanks through its units, and through whatever its soft parts were on. */
function blanksBehind(index: EquipmentIndex, behind: readonly CarrierBehind[]): readonly BlankRecord[] {
  const units = behind.flatMap(({ carrier, unit }) =>
    carrier.kind === 'unit' ? [unit] : (index.staysOfPart.get(carrier.id) ?? []).map((stay) => stay.unit),
  );
  return [...new Set(units)].flatMap((unit) => (index.blanksOfUnit.get(unit) ?? []).map(({ record }) => record));
}

type BlankTold = z.output<typeof blankOutput>;

function byBlanks(sample: string, behind: readonly CarrierBehind[], { index, judgeOf }: Told): readonly BlankTold[] {
  return blanksBehind(index, behind).flatMap((blank) =>
    samplesBehindBlank(index, blank.id, judgeOf(blank)).flatMap((trail) =>
      trail.samples
        .filter((one) => one.sample === sample)
        .map(({ standing, sentence }) => ({
          blank: blank.id,
          number: blank.fields.number,
          analyte: trail.analyte,
          casNumber: trail.casNumber,
          standing,
          sentence,
        })),
    ),
  );
}

/** What it may carry on is another matter than what the sample was taken for. */
function isAskedFor({ classes }: OpenClasses, suites: readonly string[]): boolean {
  const asked = classesOfSuites(suites);
  return suites.length === 0 || asked.unknown.length > 0 || classes.some((one) => asked.classes.includes(one));
}

/** Of gear that was not known to be clean, and of which no well behind it tells more. */
function byUncleanGear(
  { behind, suites }: Pick<SampleTrail, 'behind' | 'suites'>,
  carried: readonly CarryOver[],
  { index }: Told,
): readonly Judgement[] {
  return behind.flatMap(({ carrier, unit, isClean, open, isBackInItsWell: isBack }) => {
    if (carrier.kind !== 'unit' || isClean || isBack || carried.some((one) => one.carrier.id === unit)) return [];
    const line = index.lines.get(unit);
    if (open && line)
      return isAskedFor(open, suites)
        ? [{ standing: 'cannot-tell' as const, sentence: openSentence(index, line, open) }]
        : [];
    const name = carrierName(index, carrier);
    const sentence = `${name} was not known to be clean as it went in, and of where it was before nothing is recorded.`;
    return [{ standing: 'cannot-tell' as const, sentence }];
  });
}

/** What is to be said of a sample of which no blank and no well tells anything. */
function nothingFound({ behind }: Pick<SampleTrail, 'behind'>): Judgement {
  if (behind.length === 0) return { standing: 'cannot-tell', sentence: 'No record says which gear it passed.' };
  const sentence = 'By the records no gear brought in what it was taken for, and no blank that failed lies behind it.';
  const clean = 'By the records all gear went in clean, and no blank that failed lies behind it.';
  return { standing: 'cleared', sentence: behind.every(({ isClean }) => isClean) ? clean : sentence };
}

const OF_A_BLANK: Readonly<Record<Judgement['standing'], string>> = {
  'in-question': 'puts it in question',
  'cannot-tell': 'failed: where it stands by that cannot be told',
  cleared: 'failed, and does not put it in question',
};

/** The values of a blank are told to those alone who follow its event. */
function asSeen({ blank, standing, sentence }: BlankTold, { index, sight }: Told): Judgement {
  if (sight.sees(index.rinsates.get(blank)?.record.fields.event)) return { standing, sentence };
  return {
    standing,
    sentence: `A blank through the same gear, of an event that you do not follow, ${OF_A_BLANK[standing]}.`,
  };
}

/** Undefined for a sample that is not among the records. */
export function sampleTrailTold(sample: string, told: Told): SampleTrailTold | undefined {
  const { index, names, sight } = told;
  const trail = trailOfSample(index, sample);
  if (!trail) return undefined;
  const blanks = byBlanks(sample, trail.behind, told);
  const carried = trail.behind
    .flatMap(({ carrier }) => carriedOver(index, carrier))
    .filter(({ visit }) => visit === trail.visit)
    .map((one) => ({ ...one, samples: one.samples.filter((its) => its.sample === sample) }));
  const judged: readonly Judgement[] = [
    ...blanks.map((one) => asSeen(one, told)),
    ...carried.flatMap(({ samples }) => samples),
    ...byUncleanGear(trail, carried, told),
  ];
  const { standing, sentence } = gravest(judged) ?? nothingFound(trail);
  const { number, visit, well } = trail;
  return {
    sample,
    number,
    visit,
    well,
    wellName: names.well(well),
    standing,
    sentence,
    behind: trail.behind.map((one) => behindTold(one, told)),
    blanks: blanks.filter(({ blank }) => sight.sees(index.rinsates.get(blank)?.record.fields.event)),
    // told to whoever may read the sample: it is about this visit
    carriedOver: [...carryOversTold(index, carried, names, SEES_ALL)],
  };
}
