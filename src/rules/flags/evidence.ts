import { canonicalText, rowHash } from '../../protocol/content-hash.ts';
import type { Evidence } from './raised-flag.ts';

/** The most characters that `shows` of a flag may have. */
const LONGEST_SHOWN = 200;

/** A text that fits its field; what was cut off is marked, and no half of a surrogate pair is left. */
export function cutText(text: string, longest: number): string {
  return text.length <= longest ? text : `${text.slice(0, longest - 1).toWellFormed()}…`;
}

/** What a value shows, as text: a string as it was entered, anything else as canonical JSON. */
export function shownText(value: unknown): string {
  return cutText(typeof value === 'string' ? value : canonicalText(value), LONGEST_SHOWN);
}

/** A field of a record as evidence, with what it shows; a missing or empty one shows nothing. */
export function fieldEvidence<Fields extends object>(
  record: { readonly id: string; readonly fields: Fields },
  field: keyof Fields & string,
): Evidence {
  const value: unknown = record.fields[field];
  if (value == null || value === '') return { record: record.id, field };
  return { record: record.id, field, shows: shownText(value) };
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compareEvidence(a: Evidence, b: Evidence): number {
  return (
    compareText(a.record, b.record) ||
    compareText(a.field ?? '', b.field ?? '') ||
    compareText(a.shows ?? '', b.shows ?? '')
  );
}

/** Evidence in its one order (record, field, shown), each piece once: equal causes have equal evidence. */
export function canonicalEvidence(evidence: readonly Evidence[]): readonly Evidence[] {
  const sorted = evidence.toSorted(compareEvidence);
  return sorted.filter((piece, at) => {
    const before = sorted[at - 1];
    return before === undefined || compareEvidence(before, piece) !== 0;
  });
}

/** 16 hexadecimal digits over the evidence in canonical order: a review is bound to them, new evidence changes them. */
export function evidenceHash(evidence: readonly Evidence[]): string {
  return rowHash(canonicalText(canonicalEvidence(evidence)));
}
