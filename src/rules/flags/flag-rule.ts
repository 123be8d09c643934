import type { VisitBundle } from '../visit-bundle.ts';
import type { AssessmentLike } from './assessment-like.ts';
import type { FlagVector } from './flag-vector.ts';
import type { Addressee, Finding, Severity } from './raised-flag.ts';

export type Method = VisitBundle['visit']['fields']['method'];

export const EVERY_METHOD: readonly Method[] = ['low-flow', 'volume', 'dry-well', 'passive', 'flowing', 'gauging'];

/** What a rule looks at: a visit without its voided records, and the assessments of its purges by purge id. */
export interface VisitFacts {
  readonly bundle: VisitBundle;
  readonly assessments: ReadonlyMap<string, AssessmentLike>;
}

/** What the catalogue says of a rule. */
export interface FlagRuleEntry {
  readonly code: string;
  readonly title: string;
  readonly severity: Severity;
  /** Now: only what the crew at the well can still mend. Once the crew has left, it is told tonight instead. */
  readonly addressee: Addressee;
  /** The publication, or "common practice, no source". */
  readonly source: string;
  /** Whether the source was read, or the rule is plain physics or arithmetic of the records; not recalled. */
  readonly verified: boolean;
}

export interface FlagRule extends FlagRuleEntry {
  /** The methods of a visit that the rule applies to: it never fires on a lawful route. */
  readonly methods: readonly Method[];
  /** Rules that tell the same cause better: while one of them fires on the visit, this one is silent. */
  readonly yieldsTo: readonly string[];
  /** Looks at voided records as well, and at a voided visit: what is asked about is who wrote, a void among it. */
  readonly looksAtVoided?: true;
  /** At most one finding a subject. */
  evaluate(facts: VisitFacts): readonly Finding[];
  /** Cases with their outcome; a test replays each. */
  readonly vectors: readonly FlagVector[];
}
