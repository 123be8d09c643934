import { isSameAnalyte } from '../decon/analyte-key.ts';
import { amountOf } from '../decon/analyte-result.ts';
import { blankStanding } from './blank-standing.ts';
import { blanksOfCarrier, type Carrier, carrierName, carriersAt, samplesOfCarrier } from './carrier.ts';
import type { EquipmentIndex, PlacedBlank } from './equipment-index.ts';
import type { ResultRecord } from './equipment-records.ts';
import { countStandings, gravest, type JudgeByBlank, type Judgement, type StandingCounts } from './judged-sample.ts';
import { compareMoments, isSurelyBefore } from './moment.ts';
import type { TouchedSample } from './touched-samples.ts';

export interface SampleBehindBlank extends Judgement {
  readonly sample: string;
  readonly number: string;
  readonly visit: string;
  readonly well: string;
  /** What it shares with the blank: the unit, soft parts. */
  readonly through: readonly Carrier[];
}

/** What a failed rinsate makes of the samples that were taken with the same gear, for one analyte. */
export interface BlankTrail {
  readonly blank: string;
  readonly number: string;
  readonly unit: string;
  readonly analyte: string;
  readonly casNumber: string | null;
  /** The clean blanks of the unit on either side of it, where there are any. */
  readonly lastClean: string | null;
  readonly nextClean: string | null;
  /** By when they were collected. */
  readonly samples: readonly SampleBehindBlank[];
  readonly counts: StandingCounts;
  /** Taken with it and for other suites only. */
  readonly notAsked: readonly string[];
  readonly sentence: string;
}

interface Between {
  readonly last: PlacedBlank | undefined;
  readonly next: PlacedBlank | undefined;
}

/** Clean of the analyte at what this blank showed: one whose limit lies above that bounds nothing. */
function cleanAround(
  index: EquipmentIndex,
  carrier: Carrier,
  blank: PlacedBlank,
  analyte: ResultRecord['fields'],
): Between {
  const shown = (index.resultsOfBlank.get(blank.record.id) ?? [])
    .filter(({ fields }) => fields.condition === 'detected' && isSameAnalyte(fields, analyte))
    .flatMap(({ fields }) => amountOf(fields) ?? []);
  const clean = blanksOfCarrier(index, carrier).filter(
    ({ record }) => blankStanding(index.resultsOfBlank.get(record.id) ?? [], analyte, shown) === 'clean',
  );
  const isBefore = (one: PlacedBlank) => compareMoments(one.collected, blank.collected) < 0;
  return { last: clean.findLast(isBefore), next: clean.find((one) => !isBefore(one) && one !== blank) };
}

/** Where the clocks leave it open on which side of a clean blank a sample was taken, it is looked at. */
function isBetween({ collected }: TouchedSample, { last, next }: Between): boolean {
  const isAfter = last === undefined || !isSurelyBefore(collected, last.collected);
  return isAfter && (next === undefined || !isSurelyBefore(next.collected, collected));
}

interface Linked {
  readonly touched: TouchedSample;
  readonly through: readonly Carrier[];
}

function linkedSamples(index: EquipmentIndex, blank: PlacedBlank, analyte: ResultRecord['fields']): readonly Linked[] {
  const linked = new Map<string, Linked>();
  for (const carrier of carriersAt(index, blank.unit, blank.collected)) {
    const between = cleanAround(index, carrier, blank, analyte);
    for (const touched of samplesOfCarrier(index, carrier)) {
      if (!isBetween(touched, between)) continue;
      const before = linked.get(touched.record.id);
      const through = before ? [...before.through, carrier] : [carrier];
      linked.set(touched.record.id, { touched, through });
    }
  }
  return [...linked.values()].sort((a, b) => compareMoments(a.touched.collected, b.touched.collected));
}

/** @param ofBlank what was found of one analyte, in one blank */
export function judgementOf(
  results: readonly ResultRecord[],
  ofBlank: readonly ResultRecord[],
  number: string,
  judge: JudgeByBlank,
): Judgement {
  const [first] = ofBlank;
  const its = results.filter(({ fields }) => first !== undefined && isSameAnalyte(fields, first.fields));
  const judged = its.flatMap((result) => ofBlank.map((blank) => judge(result.fields, blank.fields)));
  const missing = `No result for ${first?.fields.analyte ?? 'the analyte'} of ${number} is here yet.`;
  return gravest(judged) ?? { standing: 'cannot-tell', sentence: missing };
}

/** A sample without a result for the analyte, and for none of the suites of the blank, was never asked for it. */
function isAsked(
  index: EquipmentIndex,
  { touched }: Linked,
  blank: PlacedBlank,
  analyte: ResultRecord['fields'],
): boolean {
  const results = index.resultsOfSample.get(touched.record.id) ?? [];
  if (results.some(({ fields }) => isSameAnalyte(fields, analyte))) return true;
  const suites = touched.record.fields.suites.map((suite) => suite.toLowerCase());
  return blank.record.fields.suites.some((suite) => suites.includes(suite.toLowerCase()));
}

function sentenceOf(index: EquipmentIndex, trail: Omit<BlankTrail, 'sentence'>): string {
  const { number, unit, analyte, counts } = trail;
  const name = carrierName(index, { kind: 'unit', id: unit });
  const told = [
    `${counts.inQuestion} in question`,
    `${counts.cleared} cleared`,
    ...(counts.cannotTell > 0 ? [`${counts.cannotTell} cannot be told`] : []),
  ];
  return `${analyte} was found in ${number} through ${name}: of ${trail.samples.length} samples ${told.join(', ')}.`;
}

function trailOf(
  index: EquipmentIndex,
  blank: PlacedBlank,
  found: readonly ResultRecord[],
  analyte: ResultRecord['fields'],
  judge: JudgeByBlank,
): BlankTrail {
  const linked = linkedSamples(index, blank, analyte);
  const asked = linked.filter((one) => isAsked(index, one, blank, analyte));
  const samples = asked.map(({ touched, through }) => {
    const { id, fields } = touched.record;
    const results = index.resultsOfSample.get(id) ?? [];
    const { visit, well } = touched.contact;
    return {
      sample: id,
      number: fields.number,
      visit,
      well,
      through,
      ...judgementOf(results, found, fields.number, judge),
    };
  });
  const around = cleanAround(index, { kind: 'unit', id: blank.unit }, blank, analyte);
  const trail = {
    blank: blank.record.id,
    number: blank.record.fields.number,
    unit: blank.unit,
    analyte: analyte.analyte,
    casNumber: analyte.casNumber ?? null,
    lastClean: around.last?.record.id ?? null,
    nextClean: around.next?.record.id ?? null,
    samples,
    counts: countStandings(samples),
    notAsked: linked.filter((one) => !asked.includes(one)).map(({ touched }) => touched.record.id),
  };
  return { ...trail, sentence: sentenceOf(index, trail) };
}

/** The detected results, one list for each analyte. */
export function detected(results: readonly ResultRecord[]): readonly (readonly ResultRecord[])[] {
  const groups: ResultRecord[][] = [];
  for (const result of results.filter(({ fields }) => fields.condition === 'detected')) {
    const group = groups.find(([first]) => first !== undefined && isSameAnalyte(first.fields, result.fields));
    if (group) group.push(result);
    else groups.push([result]);
  }
  return groups;
}

/**
 * For each analyte that an equipment blank found: the samples that were taken with that unit, and with the soft parts
 * that were on it, between the last and the next clean blank for that analyte, each judged by the rule of the blank.
 * Nothing where nothing was found.
 *
 * Source: what a blank says of the samples beside it, US Department of Defense, Data Validation Guidelines, revised table
 * A, 9 Feb 2022, read in a copy; that the clean blanks on either side bound it is common practice, no source.
 */
export function samplesBehindBlank(index: EquipmentIndex, blankId: string, judge: JudgeByBlank): readonly BlankTrail[] {
  const blank = index.rinsates.get(blankId);
  if (!blank) return [];
  const results = (index.resultsOfBlank.get(blankId) ?? []).toSorted((a, b) => (a.id < b.id ? -1 : 1));
  return detected(results)
    .flatMap((found) => (found[0] ? [trailOf(index, blank, found, found[0].fields, judge)] : []))
    .sort((a, b) => (a.analyte < b.analyte ? -1 : 1));
}
