import type { ADDRESSEES, SEVERITIES } from '../../protocol/kinds/flag.ts';

export type Severity = (typeof SEVERITIES)[number];
export type Addressee = (typeof ADDRESSEES)[number];

/** A record that a flag rests on, which field of it, and what that field shows. */
export interface Evidence {
  readonly record: string;
  readonly field?: string;
  readonly shows?: string;
}

/** What a rule found: one cause, one finding. */
export interface Finding {
  readonly subjectKind: string;
  readonly subject: string;
  readonly sentence: string;
  readonly evidence: readonly Evidence[];
}

/** A flag before a person has reviewed it. (rule, subject) is its identity. */
export interface RaisedFlag extends Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly addressee: Addressee;
  /** Cleared: only a value that a correction superseded would raise it. It stays listed. */
  readonly standing: 'raised' | 'cleared';
}
