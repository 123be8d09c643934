import { byKey } from '../equipment/by-key.ts';
import { canonicalEvidence, cutText, fieldEvidence } from './evidence.ts';
import type { FlagRuleEntry } from './flag-rule.ts';
import { listText } from './list-text.ts';
import type { RaisedFlag } from './raised-flag.ts';

/** A sample or a blank of an event, by the number on its bottles. */
export interface Numbered {
  readonly id: string;
  readonly kind: 'sample' | 'blank';
  readonly fields: {
    readonly number: string;
    /** As entered. */
    readonly collected: string;
    /** Of a blank. */
    readonly type?: string;
  };
}

export interface NumberVector {
  readonly name: string;
  /** Number, and for a blank its type. */
  readonly given: readonly (readonly [number: string, blank?: string])[];
  readonly expect: string | null;
}

export const SAMPLE_NUMBER_RULE: FlagRuleEntry & { readonly vectors: readonly NumberVector[] } = {
  code: 'sample-number-twice',
  title: 'Two samples or blanks of one event have the same number',
  severity: 'caution',
  addressee: 'tonight',
  source: 'Arithmetic of the records: the laboratory tells bottles apart by the numbers on them',
  verified: true,
  vectors: [
    { name: 'two samples', given: [['S-7'], ['S-7']], expect: 'The number S-7 is on 2 samples or blanks' },
    { name: 'a sample and a rinsate', given: [['S-7'], ['S-7', 'equipment']], expect: 'an equipment blank of' },
    {
      name: 'two blanks',
      given: [
        ['EB-1', 'equipment'],
        ['EB-1', 'field'],
      ],
      expect: 'a field blank of',
    },
    { name: 'numbers of their own', given: [['S-7'], ['S-8'], ['EB-1', 'equipment']], expect: null },
    { name: 'one alone', given: [['S-7']], expect: null },
  ],
};

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;

function told({ kind, fields: { collected, type } }: Numbered): string {
  const what = kind === 'sample' ? 'a sample' : `${type === 'equipment' ? 'an' : 'a'} ${type} blank`;
  return `${what} of ${collected.slice(0, 10)} ${collected.slice(11, 16)}`;
}

export interface NumberFlag extends RaisedFlag {
  /** Part of the identity: once an event and number. */
  readonly number: string;
}

/** One flag names all that have the number, the same in whatever order they came. */
function flagOf(event: string, number: string, its: readonly Numbered[]): NumberFlag {
  const { code, severity, addressee } = SAMPLE_NUMBER_RULE;
  const names = listText(its.map(told).toSorted());
  const sentence = `The number ${number} is on ${its.length} samples or blanks of this event: ${names}. Say which bottles are whose, and correct the number of the others before they are shipped.`;
  return {
    rule: code,
    number,
    subjectKind: 'event',
    subject: event,
    severity,
    addressee,
    sentence: cutText(sentence, LONGEST_SENTENCE),
    evidence: canonicalEvidence(its.map((one) => fieldEvidence(one, 'number'))),
    standing: 'raised',
  };
}

/** @param numbered the samples and blanks of an event that stand, or all of them that have certain numbers */
export function sampleNumberFlags(event: string, numbered: readonly Numbered[]): readonly NumberFlag[] {
  const byNumber = byKey(numbered, ({ fields }) => fields.number);
  return [...byNumber].flatMap(([number, its]) => (its.length > 1 ? [flagOf(event, number, its)] : []));
}
