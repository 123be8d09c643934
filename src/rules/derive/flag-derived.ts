import { derivedId } from '../derived-id.ts';
import { evidenceHash } from '../flags/evidence.ts';
import type { RaisedFlag } from '../flags/raised-flag.ts';
import type { Held, World } from '../held.ts';
import type { Derived } from './derived.ts';

export function flagId(firm: string, rule: string, subject: string): string {
  return derivedId(firm, 'flag', rule, subject);
}

/** Where a flag stands by the reviews that looked at just what it rests on. */
function standingOf(id: string, hash: string, standing: RaisedFlag['standing'], world: Pick<World, 'under'>) {
  const review = standing === 'raised' ? reviewOf(id, hash, world) : undefined;
  return { standing: review ? 'reviewed' : standing, ...(review ? { review: review.state.id } : {}) };
}

/** The newest review that looked at just this evidence; new evidence raises the flag again. */
function reviewOf(id: string, hash: string, world: Pick<World, 'under'>): Held | undefined {
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
  /** Of a flag about equipment, the unit whose records tell it. */
  readonly unit?: string;
}

/** A flag as a record, beside the record that it is about. */
export function flagDerived(firm: string, flag: RaisedFlag, place: FlagPlace, world: Pick<World, 'under'>): Derived {
  const { subject, visit, unit, id = flagId(firm, flag.rule, flag.subject) } = place;
  const hash = evidenceHash(flag.evidence);
  const well = visit?.state.fields.well;
  const fields = {
    rule: flag.rule,
    subjectKind: flag.subjectKind,
    subject: flag.subject,
    ...(visit ? { visit: visit.state.id } : {}),
    ...(typeof well === 'string' ? { well } : {}),
    ...(unit === undefined ? {} : { unit }),
    severity: flag.severity,
    addressee: flag.addressee,
    sentence: flag.sentence,
    evidence: flag.evidence,
    evidenceHash: hash,
    ...standingOf(id, hash, flag.standing, world),
  };
  return { kind: 'flag', id, fields, feed: subject.feed, parent: flag.subject, visit: visit?.state.id ?? null };
}

/** A flag that is stored as it should stand by its reviews, with nothing else looked at. */
export function reviewedAgain(flag: Held, world: Pick<World, 'under'>): Derived {
  const { state, feed, parent, visit } = flag;
  const { review: _, standing, evidenceHash: hash, ...rest } = state.fields;
  const before = standing === 'cleared' ? 'cleared' : 'raised';
  const fields = { ...rest, evidenceHash: hash, ...standingOf(state.id, String(hash), before, world) };
  return { kind: state.kind, id: state.id, fields, feed, parent, visit };
}
