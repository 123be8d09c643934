import { derivedId } from '../derived-id.ts';
import { evidenceHash } from '../flags/evidence.ts';
import type { RaisedFlag } from '../flags/raised-flag.ts';
import type { Held, World } from '../held.ts';
import type { Derived } from './derived.ts';

export function flagId(firm: string, rule: string, subject: string): string {
  return derivedId(firm, 'flag', rule, subject);
}

/** The newest review that looked at just this evidence; new evidence raises the flag again. */
function reviewOf(id: string, hash: string, world: World): Held | undefined {
  const reviews = world
    .under(id)
    .filter((held) => held.state.kind === 'flag-review' && held.state.voided === null)
    .filter((held) => held.state.fields.evidenceHash === hash);
  const key = (held: Held) => `${JSON.stringify(held.state.fields.observed)} ${held.state.id}`;
  return reviews.toSorted((a, b) => (key(a) < key(b) ? -1 : 1)).at(-1);
}

/** What a flag is about, and how it is known. */
export interface FlagPlace {
  readonly subject: Held;
  /** The visit that it arose in; null for a flag about equipment or a device. */
  readonly visit: Held | null;
  /** Where rule and subject alone do not tell it from others. */
  readonly id?: string;
}

/** A flag as a record, beside the record that it is about. */
export function flagDerived(firm: string, flag: RaisedFlag, place: FlagPlace, world: World): Derived {
  const { subject, visit, id = flagId(firm, flag.rule, flag.subject) } = place;
  const hash = evidenceHash(flag.evidence);
  const review = flag.standing === 'raised' ? reviewOf(id, hash, world) : undefined;
  const well = visit?.state.fields.well;
  const fields = {
    rule: flag.rule,
    subjectKind: flag.subjectKind,
    subject: flag.subject,
    ...(visit ? { visit: visit.state.id } : {}),
    ...(typeof well === 'string' ? { well } : {}),
    severity: flag.severity,
    addressee: flag.addressee,
    sentence: flag.sentence,
    evidence: flag.evidence,
    evidenceHash: hash,
    standing: review ? 'reviewed' : flag.standing,
    ...(review ? { review: review.state.id } : {}),
  };
  return { kind: 'flag', id, fields, feed: subject.feed, parent: flag.subject, visit: visit?.state.id ?? null };
}
