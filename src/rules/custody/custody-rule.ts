import { canonicalEvidence, cutText } from '../flags/evidence.ts';
import type { FlagRuleEntry } from '../flags/flag-rule.ts';
import { listText } from '../flags/list-text.ts';
import type { Evidence, Finding } from '../flags/raised-flag.ts';
import type { ReceiptRecord } from '../samples/sample-records.ts';
import type { ContentsChange } from './contents-changes.ts';
import type { CoolerFacts, Packed } from './cooler-facts.ts';
import type { Signer } from './custody-change.ts';
import type { CustodyVector } from './custody-vector.ts';
import type { FormerValue } from './former-values.ts';
import type { PackedTwice } from './packed-twice.ts';
import type { Writers } from './signatures.ts';

/** What a rule may look at beside the records as they stand. */
export interface Beside {
  /** Values that were corrected, where the histories were read; none where they were not. */
  readonly former: readonly FormerValue[];
  /** What came into the cooler and left it, where that was read. */
  readonly contents: readonly ContentsChange[];
  /** Who wrote down first what was changed since, where the histories were read. */
  readonly writers?: Writers;
  /** What was packed in it and elsewhere, where conflicts were read. */
  readonly twice: readonly PackedTwice[];
  /** Null where nothing may depend on what time it is. */
  readonly now: string | null;
}

/** A rule about a cooler and its receipts; at most one finding a subject. */
export interface CustodyRule extends FlagRuleEntry {
  /** Kept beside the record; the others are answered when asked, since they look at more than what stands. */
  readonly isStored: boolean;
  find(facts: CoolerFacts, beside: Beside): readonly Finding[];
  readonly vectors: readonly CustodyVector[];
}

/** The most characters that the sentence of a flag may have. */
export const LONGEST_SENTENCE = 1_000;

function about(subjectKind: Finding['subjectKind'], subject: string, sentence: string, evidence: readonly Evidence[]) {
  const told = cutText(sentence, LONGEST_SENTENCE);
  return [{ subjectKind, subject, sentence: told, evidence: canonicalEvidence(evidence) }];
}

export function aboutCooler({ cooler }: CoolerFacts, sentence: string, evidence: readonly Evidence[]): Finding[] {
  return about('cooler', cooler.id, sentence, evidence);
}

export function aboutReceipt({ id }: ReceiptRecord, sentence: string, evidence: readonly Evidence[]): Finding[] {
  return about('sample-receipt', id, sentence, evidence);
}

export function labelsText(packed: readonly Packed[]): string {
  return listText(packed.map(({ container }) => container.fields.label));
}

export function labelEvidence(packed: readonly Packed[]): Evidence[] {
  return packed.map(({ container }) => ({ record: container.id, field: 'label', shows: container.fields.label }));
}

/** A record as evidence by what one of its fields shows. */
export function shows(record: string, field: string, value: string): Evidence {
  return { record, field, shows: cutText(value, 200) };
}

/** Sides of changes of custody as evidence, by the times as signed or as the receipt tells them. */
export function signedEvidence(sides: readonly (Signer | null)[]): Evidence[] {
  return sides.flatMap((side) => (side ? shows(side.record, side.isReceipt ? 'received' : 'at', side.at) : []));
}
