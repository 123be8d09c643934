import type { HoldingClock } from '../../science/samples/holding-clocks.ts';
import type {
  ContainerMaterial,
  ContainerRule,
  CoolingRule,
  FillClass,
  FillingRule,
  FiltrationRule,
  Headspace,
  HoldingCondition,
  HoldingLimit,
  HoldingVariant,
  PhRule,
  PreservationRule,
  Preservative,
  ShortWaterRule,
} from './analyte-group.ts';
import { PUBLICATIONS, type Publication, recalled } from './publications.ts';

const {
  advisoryOnFiltering,
  commonPractice,
  epa1992Filling,
  fieldManual561,
  fieldManualRates,
  region1Page8,
  usualRequest,
} = PUBLICATIONS;

export const PLASTIC_OR_GLASS: readonly ContainerMaterial[] = ['polyethylene', 'fluoropolymer', 'glass'];

/** Vials of 40 mL; three for a sample of groundwater were read in the field manual. */
export function vials(said: Publication, counted: Publication = fieldManual561, count = 3): ContainerRule {
  const closure = 'screw cap with a septum faced with fluoropolymer';
  const bottles = { ...counted, count, volumeMl: 40 };
  return { ...said, kind: 'vial', materials: ['glass'], colour: 'any', closure, bottles };
}

/** A litre of amber glass. */
export function amberLitre(said: Publication): ContainerRule {
  const closure = 'cap lined with fluoropolymer';
  const bottles = { ...usualRequest, count: 1, volumeMl: 1_000 };
  return { ...said, kind: 'bottle', materials: ['glass'], colour: 'amber', closure, bottles };
}

export function bottle(
  said: Publication,
  volumeMl: number,
  more: { readonly materials?: readonly ContainerMaterial[]; readonly mostVolumeMl?: number } = {},
): ContainerRule {
  const { materials = PLASTIC_OR_GLASS, mostVolumeMl } = more;
  const bottles = { ...usualRequest, count: 1, volumeMl, ...(mostVolumeMl === undefined ? {} : { mostVolumeMl }) };
  return { ...said, kind: 'bottle', materials, colour: 'any', bottles };
}

export function nothingAdded(said: Publication, note?: string): PreservationRule {
  return { ...said, anyOf: [], ...(note === undefined ? {} : { note }) };
}

export function added(said: Publication, anyOf: readonly (readonly Preservative[])[], ph?: PhRule): PreservationRule {
  return { ...said, anyOf, ...(ph === undefined ? {} : { ph }) };
}

/** At or below 6 °C and not frozen; "4 °C" in lists older than this wording. */
export function cool(said: Publication, isDark = false): CoolingRule {
  return { ...said, atMostC: '6', mayFreeze: false, isDark };
}

export function notCooled(said: Publication): CoolingRule {
  return { ...said, atMostC: null, mayFreeze: false, isDark: false };
}

export function neverFiltered(): FiltrationRule {
  return {
    ...advisoryOnFiltering,
    filter: 'never',
    note: 'A filter lets what is volatile escape and takes carbon up.',
  };
}

export function filteredOnlyWithReason(): FiltrationRule {
  return { ...advisoryOnFiltering, filter: 'only-with-reason', note: 'Filters take organic substances up.' };
}

export function unfiltered(): FiltrationRule {
  return { ...region1Page8, filter: 'unfiltered', note: 'Filtered water does not stand for what moves in all.' };
}

export function fieldFiltered(): FiltrationRule {
  return { ...region1Page8, filter: 'field-filter', poreMicrometers: '0.45' };
}

export function filteredAsPlanned(): FiltrationRule {
  return { ...commonPractice, filter: 'as-planned' };
}

type Span = Pick<HoldingLimit, 'written' | 'minutes'>;

export function hours(count: number): Span {
  return { written: `${count} h`, minutes: count * 60 };
}

export function days(count: number): Span {
  return { written: `${count} d`, minutes: count * 1_440 };
}

/** Six months are read as 180 days. */
export function sixMonths(): Span {
  return { written: '6 months, read as 180 d', minutes: 180 * 1_440 };
}

export function clock(name: HoldingClock, span: Span): HoldingLimit {
  return { clock: name, ...span };
}

export function toAnalysis(span: Span): readonly HoldingLimit[] {
  return [clock('collection-to-analysis', span)];
}

export function twoClocks(extraction: Span, analysis: Span): readonly HoldingLimit[] {
  return [clock('collection-to-extraction', extraction), clock('extraction-to-analysis', analysis)];
}

export function prescribed(said: Publication, limits: readonly HoldingLimit[]): HoldingVariant {
  return { ...said, id: 'as-prescribed', condition: 'as-prescribed', when: 'Preserved and kept as asked for.', limits };
}

/** Another limit of the same group, by what must be so for it to count. */
export function otherwise(
  said: Publication,
  id: string,
  condition: Exclude<HoldingCondition, 'as-prescribed'>,
  limits: readonly HoldingLimit[],
  when: string,
): HoldingVariant {
  return { ...said, id, condition, when, limits };
}

/** Filled slowly and to the brim. */
export function filledToTheBrim(fillClass: FillClass): FillingRule {
  const note = 'A bubble: discard, and fill a new one; where it cannot be had without, that is recorded.';
  return { ...fieldManual561, fillClass, headspace: 'none', note, rate: { ...epa1992Filling, atMostMlPerMin: 100 } };
}

/** A limit for bottles of 250 mL and more was read; for smaller ones there is none but that of the purge itself. */
export function filledBottle(
  fillClass: FillClass,
  volumeMl: number,
  headspace: Headspace = 'no-overflow',
): FillingRule {
  const rate = { ...fieldManualRates, atMostMlPerMin: 500 };
  return { ...fieldManual561, fillClass, headspace, ...(volumeMl >= 250 ? { rate } : {}) };
}

/** What is filled first is also kept first: the order of volatility; the plan may have another. */
const PRIORITY: Readonly<Record<FillClass, number>> = {
  volatiles: 1,
  pfas: 2,
  'organic-halides': 3,
  'dissolved-gases': 4,
  'organic-carbon': 5,
  semivolatiles: 6,
  'filtered-metals': 7,
  metals: 8,
  cyanide: 9,
  sulfide: 10,
  nutrients: 11,
  'major-ions': 12,
  physical: 13,
  radionuclides: 14,
};

export function ifShort(fillClass: FillClass, leastVolumeMl: number, leastCount = 1): ShortWaterRule {
  return { ...commonPractice, priority: PRIORITY[fillClass], leastCount, leastVolumeMl };
}

export function methodRecalled(method: string): Publication {
  return recalled(`EPA Method ${method}`);
}
