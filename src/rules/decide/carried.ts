import type { CarriedBy } from '../../protocol/record.ts';
import type { Change, Decision } from './decision.ts';
import { isTaken } from './decision.ts';
import { type RightIn, rightInFeeds } from './event-right.ts';

/** A device, or a token of no device. */
export type CarrierName = { readonly device: string } | { readonly device: null; readonly token: string };

/** Who hands in what another device captured. */
export interface Carrier {
  readonly name: CarrierName;
  /** In which events it may write itself; null where that does not depend on assignments. */
  readonly rightIn: RightIn | null;
}

function isSame(one: CarriedBy, name: CarrierName): boolean {
  return name.device === null ? one.token === name.token : one.device === name.device;
}

/** One entry a device or token: the last revision that it brought, and no right where it ever had none. */
function named(before: readonly CarriedBy[], { name }: Carrier, right: boolean, rev: number): readonly CarriedBy[] {
  const known = before.find((one) => isSame(one, name));
  const entry = { ...name, right: right && known?.right !== false, rev };
  return known ? before.map((one) => (one === known ? entry : one)) : [...before, entry];
}

function stamped(change: Change, carrier: Carrier, right: boolean): Change {
  const { held } = change;
  const carriedBy = named(held.state.carriedBy ?? [], carrier, right, held.state.rev);
  return { ...change, held: { ...held, state: { ...held.state, carriedBy } } };
}

/** The record that a change is about: of a decision, what it decides over as well. What moves along is not. */
function isBrought({ held: { state } }: Change, { held: { state: first } }: Change): boolean {
  return state === first || (first.kind === 'resolution' && state.id === first.fields.subject);
}

/**
 * The record that a copy brought says from then on who handed it in: it is taken with the right of its author, who may
 * know nothing of it.
 *
 * @param feeds in which the change is made
 */
export function withCarrier(
  decision: Decision,
  carrier: Carrier | null,
  feeds: readonly (string | undefined)[],
): Decision {
  if (carrier === null || !isTaken(decision)) return decision;
  const [first] = decision.changes;
  if (!first) return decision;
  const right = rightInFeeds(carrier.rightIn, feeds);
  const hasRight = right === null || !('outcome' in right);
  const say = (change: Change) => (isBrought(change, first) ? stamped(change, carrier, hasRight) : change);
  return { ...decision, changes: decision.changes.map(say) };
}
