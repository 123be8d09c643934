import type {
  CustodyContainers,
  CustodyPair,
  CustodyRecord,
  CustodySample,
  CustodySigner,
  OldText,
  Written,
} from '../../documents/custody/custody-facts.ts';
import { shown } from '../../documents/custody/written-runs.ts';
import { localTime } from '../../documents/time/local-time.ts';
import type { CoolerFacts, Packed } from '../../rules/custody/cooler-facts.ts';
import type { Change, Signer } from '../../rules/custody/custody-change.ts';
import type { Gap } from '../../rules/custody/custody-gaps.ts';
import { labelsText } from '../../rules/custody/custody-rule.ts';
import { isToCome } from '../../rules/custody/receipt-judged.ts';
import { ofAnotherEvent } from '../../rules/custody/rules/container-of-another-event.ts';
import { correctedAfterSigning } from '../../rules/custody/rules/corrected-after-signing.ts';
import { isNamedIn } from '../../rules/custody/same-person.ts';
import { analyses, containerType, preservative, turnaround } from '../../rules/laboratory/container-words.ts';
import { spikeTold } from '../../rules/laboratory/spikes-told.ts';
import { tellableFormerText, tellableText } from '../../rules/laboratory/tellable.ts';
import { byIdIn } from '../../rules/samples/by-id.ts';
import { holderOf, indexSamples, type SamplesIndex, suiteAsking } from '../../rules/samples/samples-index.ts';
import {
  isBlind,
  type ToldOf,
  toldMatrix,
  toldNumber,
  toldPlace,
  toldTime,
} from '../../rules/samples/told-to-laboratory.ts';
import { receiptsOf } from './custody-record-receipt.ts';
import type { LoadedCooler } from './load-cooler.ts';
import { type Marks, marksOf } from './signed-marks.ts';

const NOT_RECORDED = 'not recorded';
const LEFT = 'not in this cooler';

/** What has to be known to write any part of a record. */
interface Writing extends LoadedCooler {
  readonly index: SamplesIndex;
  /** A text of the field as a laboratory may read it. */
  readonly tellable: (text: string) => string;
  /** The same of what was corrected. */
  readonly tellableFormer: (text: string) => string;
  /** What came or left after somebody signed for the cooler. */
  readonly marks: Marks;
}

type Field = readonly [record: string, field: string];

function oldTexts({ former, tellableFormer: tellable }: Writing, [record, field]: Field): readonly OldText[] {
  return former
    .filter((one) => one.record === record && one.field === field && one.was !== '')
    .map(({ was, initials, by, at, reason }) => ({
      text: tellable(was),
      initials: initials || by || 'unknown',
      at,
      ...(reason ? { reason: tellable(reason) } : {}),
    }));
}

/** A value with what it was before it was corrected. */
function written(now: string, writing: Writing, from: Field): Written {
  const was = oldTexts(writing, from);
  return was.length === 0 ? now : { now, was };
}

function writtenMaybe(now: string | null | undefined, writing: Writing, from: Field): Written | undefined {
  return now == null ? undefined : written(now, writing, from);
}

/** The record and field that the told number, or time, is of. */
function sourceOf(of: ToldOf, { of: { plannedSamples } }: Writing, told: string, own: string): Field {
  const fields = of.fields as Readonly<Record<string, unknown>>;
  const planned = byIdIn(plannedSamples, fields.planned as string | undefined);
  if (fields[told] != null) return [of.id, told];
  if (planned && (planned.fields as Readonly<Record<string, unknown>>)[told] != null) return [planned.id, told];
  return [of.id, own];
}

function labelTimeOf(of: ToldOf, writing: Writing): CustodySample['labelTime'] {
  const at = toldTime(of, writing.of);
  if (at === null) return { corrected: { now: NOT_RECORDED, was: [] } };
  const from = sourceOf(of, writing, 'laboratoryTime', 'collected');
  // what the time of a blind duplicate was before may be the true one, or that of its parent
  const was = isBlind(of, writing.of) ? [] : oldTexts(writing, from);
  if (was.length === 0) return { at };
  const clock = (text: string) => localTime(text, writing.facts.timeZone ?? 'UTC');
  return { corrected: { now: clock(at), was: was.map((old) => ({ ...old, text: clock(old.text) })) } };
}

/** What the number of a blind duplicate was before may be that of its parent with a letter behind it. */
function labelNumberOf(of: ToldOf, writing: Writing): Written {
  const told = toldNumber(of, writing.of);
  if (isBlind(of, writing.of)) return told;
  return written(told, writing, sourceOf(of, writing, 'laboratoryNumber', 'number'));
}

function alike(packed: readonly Packed[], writing: Writing): readonly CustodyContainers[] {
  const groups = new Map<string, CustodyContainers>();
  for (const { container, fill, of } of packed) {
    const suite = suiteAsking(writing.index, container, holderOf(writing.index, container));
    const preserved = preservative(container);
    const filtered = fill?.fields.filtered;
    const spike = spikeTold(writing.index, container);
    const isEmpty = container.fields.standing === 'expected' && fill === null && of?.kind !== 'blank';
    const one = {
      type: containerType(container),
      volumeMl: container.fields.volumeMl,
      ...(preserved === undefined
        ? {}
        : { preservative: written(preserved, writing, [container.id, 'preservatives']) }),
      ...(filtered === undefined || filtered === null ? {} : { filtered }),
      analyses: analyses(container, suite),
      ...(spike === null ? {} : { spikeAnalyses: spike.analyses }),
      ...(isEmpty ? { remark: 'no fill on record' } : {}),
      ...(writing.marks.get(container.id) ?? {}),
    };
    const key = JSON.stringify(one);
    groups.set(key, { ...one, count: (groups.get(key)?.count ?? 0) + 1 });
  }
  return [...groups].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one);
}

function turnaroundOf(packed: readonly Packed[], { index }: Writing): string | undefined {
  const suites = packed.map(({ container }) => suiteAsking(index, container, holderOf(index, container)));
  const days = suites.flatMap((suite) => (suite?.fields.turnaroundDays == null ? [] : [suite]));
  const soonest = days.toSorted((a, b) => (a.fields.turnaroundDays ?? 0) - (b.fields.turnaroundDays ?? 0))[0];
  return turnaround(soonest);
}

function spikeOf(packed: readonly Packed[], { index, of }: Writing): Partial<CustodySample> {
  const spikes = packed.flatMap(({ container }) => spikeTold(index, container) ?? []);
  const parent = spikes.find((one) => one.parent !== null)?.parent;
  if (spikes.length === 0) return {};
  return { isForMatrixSpike: true, ...(parent ? { spikeOf: toldNumber(parent, of) } : {}) };
}

function sampleOf(of: ToldOf | null, packed: readonly Packed[], writing: Writing): CustodySample {
  const isLeft = packed.every((one) => writing.marks.left.includes(one));
  const soon = turnaroundOf(packed, writing);
  const rest = { containers: alike(packed, writing), ...(soon === undefined ? {} : { turnaround: soon }) };
  if (!of) {
    const unknown = { sampleNumber: NOT_RECORDED, matrix: NOT_RECORDED, samplingPoint: NOT_RECORDED };
    return { ...unknown, labelTime: { corrected: { now: NOT_RECORDED, was: [] } }, ...rest };
  }
  return {
    sampleNumber: labelNumberOf(of, writing),
    // of what is in no cooler any more no time is told
    labelTime: isLeft ? { corrected: { now: LEFT, was: [] } } : labelTimeOf(of, writing),
    matrix: toldMatrix(of),
    samplingPoint: toldPlace(of, writing.of),
    ...rest,
    ...spikeOf(packed, writing),
  };
}

/** By the number as told: any other order would tell what was planned or taken beside what. */
function samplesOf(writing: Writing): readonly CustodySample[] {
  const groups = new Map<ToldOf | null, Packed[]>();
  const all = [...writing.facts.packed.filter(isToCome), ...writing.marks.left];
  for (const one of all) groups.set(one.of, [...(groups.get(one.of) ?? []), one]);
  const samples = [...groups].map(([of, packed]) => sampleOf(of, packed, writing));
  return samples.toSorted((a, b) => (shown(a.sampleNumber) < shown(b.sampleNumber) ? -1 : 1));
}

function signerOf({ name, organization, at }: Signer): CustodySigner {
  return { name, ...(organization === null ? {} : { organization }), at };
}

function pairOf({ relinquished, received, place, purpose }: Change, { tellable }: Writing): CustodyPair {
  return {
    ...(relinquished ? { relinquished: signerOf(relinquished) } : {}),
    ...(received ? { received: signerOf(received) } : {}),
    ...(place === null ? {} : { place: tellable(place) }),
    ...(purpose === null ? {} : { reason: tellable(purpose) }),
  };
}

/** A gap from the first bottle on begins at no printed time: that of a blind duplicate would be its true one. */
function gapOf({ from, until, sentence }: Gap, { facts, tellable }: Writing): CustodyRecord['gaps'][number] {
  const signed = facts.custody.changes.flatMap(({ relinquished, received }) => [relinquished?.at, received?.at]);
  const isTold = from !== null && (from === facts.cooler.fields.packed || signed.includes(from));
  return { ...(isTold ? { from } : {}), ...(until === null ? {} : { until }), sentence: tellable(sentence) };
}

function collectorsOf({ facts, people }: Writing): readonly CustodySigner[] {
  const readers = facts.packed.flatMap(({ fill }) => fill?.fields.observed.readBy ?? []);
  const signers = [...new Set(readers)].map((id): CustodySigner => {
    const initials = people.initials.get(id);
    const organization = people.firm === '' ? {} : { organization: people.firm };
    return { name: people.names.get(id) ?? NOT_RECORDED, ...organization, ...(initials ? { initials } : {}) };
  });
  return signers.toSorted((a, b) => (a.name < b.name ? -1 : 1));
}

function shippedAt({ cooler, custody }: CoolerFacts): string | undefined {
  const { carrier } = cooler.fields;
  const leg = custody.changes.find(
    ({ relinquished, isCarrierLeg }) =>
      isCarrierLeg || (carrier && relinquished?.to && isNamedIn(carrier, relinquished.to)),
  );
  return leg?.relinquished?.at;
}

function coolerOf(writing: Writing): CustodyRecord['cooler'] {
  const { cooler } = writing.facts;
  const { number, packed, carrier, trackingNumber, ice } = cooler.fields;
  const shipped = shippedAt(writing.facts);
  const shipper = writtenMaybe(carrier, writing, [cooler.id, 'carrier']);
  const tracking = writtenMaybe(trackingNumber, writing, [cooler.id, 'trackingNumber']);
  return {
    number: written(number, writing, [cooler.id, 'number']),
    ...(packed == null ? {} : { packedAt: packed }),
    ...(shipped === undefined ? {} : { shippedAt: shipped }),
    ...(shipper === undefined ? {} : { shipper }),
    ...(tracking === undefined ? {} : { trackingNumber: tracking }),
    ...(ice == null ? {} : { ice: writing.tellable(ice) }),
  };
}

function laboratoryOf({ facts, of }: Writing): CustodyRecord['laboratory'] {
  const fields = byIdIn(of.laboratories, facts.cooler.fields.laboratory)?.fields;
  if (!fields) return undefined;
  const { name, address, contact } = fields;
  return { name, ...(address == null ? {} : { address }), ...(contact == null ? {} : { contact }) };
}

function sealsOf(writing: Writing): CustodyRecord['seals'] {
  return writing.facts.seals.map(({ id, fields: { number, applied, appliedBy, broken } }) => ({
    number: written(number, writing, [id, 'number']),
    appliedAt: applied,
    ...(appliedBy == null ? {} : { by: appliedBy }),
    ...(broken == null ? {} : { brokenAt: broken }),
  }));
}

/** By their labels, which the laboratory reads on them; their samples are told in the documents of their own event. */
function ofOtherEvents(facts: CoolerFacts): readonly string[] {
  const its = ofAnotherEvent(facts);
  return its.length === 0 ? [] : [`In it are containers of another project, told by their labels: ${labelsText(its)}.`];
}

/**
 * What stands on the custody record of a cooler. It goes to the laboratory, so that it says of each sample what that is told
 * and nothing else: no parent but that of a spike, no type, no remark of the field.
 */
export function custodyRecord(loaded: LoadedCooler, madeAt: string): CustodyRecord {
  const { facts, of, people, former, writers, contents } = loaded;
  const writing: Writing = {
    ...loaded,
    index: indexSamples(of),
    tellable: tellableText(of),
    tellableFormer: tellableFormerText(of),
    marks: marksOf(facts, contents, of, writers),
  };
  const { name } = of.event.fields;
  const laboratory = laboratoryOf(writing);
  const isCorrected =
    correctedAfterSigning.find(facts, { former, writers, contents: contents.changes, twice: [], now: null }).length > 0;
  return {
    recordNumber: `${name} / ${facts.cooler.fields.number}`,
    madeAt,
    timeZone: facts.timeZone ?? 'UTC',
    firm: { name: people.firm },
    site: { name: of.site?.fields.name ?? NOT_RECORDED },
    project: { name },
    ...(laboratory ? { laboratory } : {}),
    cooler: coolerOf(writing),
    samples: samplesOf(writing),
    collectors: collectorsOf(writing),
    seals: sealsOf(writing),
    pairs: facts.custody.changes.map((one) => pairOf(one, writing)),
    gaps: facts.custody.gaps.map((gap) => gapOf(gap, writing)),
    ...receiptsOf(facts, writing.tellable),
    remarks: [
      ...ofOtherEvents(facts),
      ...(isCorrected ? ['Values were corrected after it was first signed for; both stand here.'] : []),
      ...writing.marks.remarks,
    ],
  };
}
