import { type Entered, enteredOrder } from '../../rules/equipment/entered-order.ts';
import type { Held } from '../../rules/held.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { Draft } from '../group.ts';

/** A new reading by a meter, or a new level by a tape. */
export interface NewReading {
  readonly draft: Draft;
  readonly unit: string;
  /** As it is stored; undefined where none is. */
  readonly state: Held | undefined;
  readonly overlay: Overlay;
  /** Everything that is changed with it, by id. */
  readonly drafts: ReadonlyMap<string, Draft>;
}

function names({ state: { fields } }: Held, unit: string): boolean {
  return [fields.meter, fields.tape].includes(unit);
}

function entered({ state: { id, fields } }: Held): Entered {
  return { id, at: (fields.observed as { readonly at: string }).at };
}

/** Where the unit is also set up or used in that visit, the last reading may be what ends it. */
function isOnlyRead({ draft, unit, overlay }: NewReading): boolean {
  return !overlay.ofVisit(draft.held.visit ?? '').some(({ state: { fields, kind } }) => {
    if (kind === 'unit-use') return fields.unit === unit;
    return kind === 'pump-set-up' && [fields.pump, fields.flowCell].includes(unit);
  });
}

/** An earlier reading of that visit by the same unit, which was there before. */
function isFollowing({ draft, unit, overlay, drafts }: NewReading, one: Held | undefined): boolean {
  if (one === undefined || drafts.has(one.state.id) || overlay.get(one.state.id) !== one) return false;
  const isSameVisit = one.visit === draft.held.visit && one.state.voided === null && names(one, unit);
  return isSameVisit && enteredOrder(entered(one), entered(draft.held)) < 0;
}

/**
 * Whether a unit that is read now and then is only read once more in a visit, which changes nothing of where it stands nor
 * of what is asked about it: it is used since the first reading of that visit, or nothing of it ever needs cleaning there.
 */
export function readsOn(given: NewReading): boolean {
  const { draft, state, overlay } = given;
  if (draft.before !== null || state === undefined || !isOnlyRead(given)) return false;
  const { state: standing, becauseRecord, becauseKind } = state.state.fields;
  if (standing === 'used') return isFollowing(given, overlay.get(String(becauseRecord)));
  if (standing !== 'clean' || becauseKind !== 'unit') return false;
  return overlay.ofVisit(draft.held.visit ?? '').some((one) => isFollowing(given, one));
}
