import { withArticle } from '../../protocol/field-words.ts';
import type { RecordState } from '../../protocol/record.ts';
import { canonicalEvidence } from './evidence.ts';
import type { FlagRule } from './flag-rule.ts';
import type { RaisedFlag } from './raised-flag.ts';
import { carriedWithoutRight, strangers } from './rules/carried-without-right.ts';
import { crewNoLongerAssigned } from './rules/crew-no-longer-assigned.ts';

/** The rules about how something was handed in, which are asked of a record that belongs to no visit by itself. */
export const HANDED_IN_RULES: readonly FlagRule[] = [carriedWithoutRight, crewNoLongerAssigned];

function raised(
  { code, severity, addressee }: FlagRule,
  record: RecordState,
  sentence: string,
  shows: string,
): RaisedFlag {
  const what = withArticle(record.kind);
  return {
    rule: code,
    subjectKind: record.kind,
    subject: record.id,
    severity,
    addressee,
    sentence: `${what.charAt(0).toUpperCase()}${what.slice(1)} of the event ${sentence}`,
    evidence: canonicalEvidence([{ record: record.id, shows }]),
    standing: 'raised',
  };
}

/** What is asked about one record that a crew made in an event and at no visit: also where it was voided since. */
export function handedInFlags(record: RecordState): readonly RaisedFlag[] {
  const by = strangers(record);
  const carried =
    'came as a copy, handed in by a device whose crew had no right in the event. Ask the crew whether it captured this.';
  const ended = record.afterAssignment?.ended;
  const late = `came from a crew whose assignment had ended at ${ended}, which its phone could not know. Say whether it counts.`;
  return [
    ...(by.length > 0 ? [raised(carriedWithoutRight, record, carried, `handed in by device ${by.join(', ')}`)] : []),
    ...(ended === undefined ? [] : [raised(crewNoLongerAssigned, record, late, `ended ${ended}`)]),
  ];
}
