import type { Fields } from '../../protocol/read-mutation.ts';
import type { RecordState } from '../../protocol/record.ts';
import { isSameJson } from '../../protocol/same-json.ts';
import type { Place } from '../decide/home.ts';
import type { Held } from '../held.ts';

/** A record that follows from others: what it should say, and where it lives. */
export interface Derived extends Place {
  readonly kind: string;
  readonly id: string;
  readonly fields: Fields;
}

/** What has to be written so that the stored derived records say what they should. */
export interface DerivedChanges {
  /** New ones, and those whose content or place has changed, with the feed that they leave. */
  readonly put: readonly { readonly held: Held; readonly leaves: string | null }[];
  /** Those that nothing gives rise to any more. */
  readonly withdrawn: readonly Held[];
}

function heldOf(derived: Derived, rev: number): Held {
  const { kind, id, fields, feed, parent, visit } = derived;
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  const state: RecordState = { kind, id, rev, ...nobody, fields };
  return { state, feed, parent, visit, memory: null };
}

function isSame(stored: Held, wanted: Derived): boolean {
  return stored.feed === wanted.feed && isSameJson(stored.state.fields, wanted.fields);
}

function putOf(wanted: Derived, stored: Held | undefined): DerivedChanges['put'] {
  if (!stored) return [{ held: heldOf(wanted, 1), leaves: null }];
  if (isSame(stored, wanted)) return [];
  const leaves = stored.feed === wanted.feed ? null : stored.feed;
  return [{ held: heldOf(wanted, stored.state.rev + 1), leaves }];
}

/** Compares what is stored with what should be; a derived record is rewritten only when its bytes change. */
export function compareDerived(stored: readonly Held[], wanted: readonly Derived[]): DerivedChanges {
  const before = new Map(stored.map((held) => [held.state.id, held]));
  const after = new Set(wanted.map((derived) => derived.id));
  return {
    put: wanted.flatMap((derived) => putOf(derived, before.get(derived.id))),
    withdrawn: stored.filter((held) => !after.has(held.state.id)),
  };
}
