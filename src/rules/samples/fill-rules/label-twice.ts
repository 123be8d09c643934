import { byKey } from '../../equipment/by-key.ts';
import { canonicalEvidence, cutText, fieldEvidence } from '../../flags/evidence.ts';
import type { FlagRuleEntry } from '../../flags/flag-rule.ts';
import { listText } from '../../flags/list-text.ts';
import type { RaisedFlag } from '../../flags/raised-flag.ts';

/** A container of an event by the text on its label. */
export interface Labelled {
  readonly id: string;
  readonly voided: unknown;
  readonly fields: { readonly label: string; readonly standing: string; readonly group: string };
}

export interface LabelVector {
  readonly name: string;
  readonly given: readonly (readonly [label: string, standing?: string])[];
  readonly expect: string | null;
}

export const LABEL_RULE: FlagRuleEntry & { readonly vectors: readonly LabelVector[] } = {
  code: 'label-twice',
  title: 'Two containers of one event have the same label',
  severity: 'caution',
  addressee: 'tonight',
  source: 'Arithmetic of the records: the laboratory tells containers apart by their labels',
  verified: true,
  vectors: [
    { name: 'two full ones', given: [['W-101-1'], ['W-101-1']], expect: 'The label W-101-1 is on 2 containers' },
    { name: 'one that still waits', given: [['W-101-1'], ['W-101-1', 'expected']], expect: 'on 2 containers' },
    { name: 'the other one was discarded', given: [['W-101-1'], ['W-101-1', 'discarded']], expect: null },
    { name: 'the other one was dropped', given: [['W-101-1'], ['W-101-1', 'dropped']], expect: null },
    { name: 'labels of their own', given: [['W-101-1'], ['W-101-2']], expect: null },
    { name: 'one alone', given: [['W-101-1']], expect: null },
  ],
};

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;

/** What is thrown away or never filled comes to no laboratory. */
export function bearsLabel({ voided, fields: { standing } }: Labelled): boolean {
  return voided === null && standing !== 'discarded' && standing !== 'dropped';
}

export interface LabelFlag extends RaisedFlag {
  /** Part of the identity: once an event and label. */
  readonly label: string;
}

function flagOf(event: string, label: string, its: readonly Labelled[]): LabelFlag {
  const { code, severity, addressee } = LABEL_RULE;
  const groups = listText(its.map(({ fields }) => `${fields.standing}, for ${fields.group}`).toSorted());
  const sentence = `The label ${label} is on ${its.length} containers of this event: ${groups}. Say which is which, and write a new label for the others before they are packed.`;
  return {
    rule: code,
    label,
    subjectKind: 'event',
    subject: event,
    severity,
    addressee,
    sentence: cutText(sentence, LONGEST_SENTENCE),
    evidence: canonicalEvidence(its.map((one) => fieldEvidence(one, 'label'))),
    standing: 'raised',
  };
}

/** @param containers of an event, or all of them that have certain labels */
export function labelFlags(event: string, containers: readonly Labelled[]): readonly LabelFlag[] {
  const byLabel = byKey(containers.filter(bearsLabel), ({ fields }) => fields.label);
  return [...byLabel].flatMap(([label, its]) => (its.length > 1 ? [flagOf(event, label, its)] : []));
}
