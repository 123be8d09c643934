import { kindNamed } from '../protocol/kinds-by-name.ts';
import { compareDerived, type Derived } from '../rules/derive/derived.ts';
import { isOfEquipment } from '../rules/derive/equipment-derived.ts';
import { fieldConflicts } from '../rules/derive/field-conflicts.ts';
import { VISIT_DERIVED, visitDerived } from '../rules/derive/visit-derived.ts';
import type { Held } from '../rules/held.ts';
import type { ClockDay } from '../store/write/device-clocks.ts';
import { allClaimKeys, claimConflicts, claimKeys, storedClaimConflicts } from './derive-claims.ts';
import { clockFlagId, deviceClockFlags } from './derive-clocks.ts';
import type { Draft, Group } from './group.ts';

function draft(held: Held, leaves: string | null, withdrawn: boolean): Draft {
  return { held, before: null, leaves, withdrawn, intent: null };
}

/** The same order, in whichever order they were loaded. */
function byId(one: Held, other: Held): number {
  return one.state.id < other.state.id ? -1 : 1;
}

/** Writes what differs between the stored derived records and what they should be. */
export function writeDerived(group: Group, stored: readonly Held[], wanted: readonly Derived[]): void {
  const { put, withdrawn } = compareDerived(stored.toSorted(byId), wanted);
  for (const { held, leaves } of put) {
    group.overlay.put(held);
    group.drafts.push(draft(held, leaves, false));
  }
  for (const held of withdrawn) {
    group.overlay.drop(held.state.id);
    group.drafts.push(draft(held, null, true));
  }
}

function isDerivedConflict(held: Held): boolean {
  const { type } = held.state.fields;
  return held.state.kind === 'conflict' && (type === 'field' || type === 'void');
}

function isOfVisit(held: Held): boolean {
  if (!VISIT_DERIVED.includes(held.state.kind) || isOfEquipment(held)) return false;
  return held.state.kind !== 'conflict' || isDerivedConflict(held);
}

/** What is derived lies in visits too, of which nothing else may be loaded: those are derived from what was said alone. */
function isDerived({ held }: Draft): boolean {
  return kindNamed(held.state.kind)?.family === 'derived';
}

function deriveVisits(group: Group, firm: string): void {
  const said = group.drafts.filter((one) => !isDerived(one));
  const changed = said.flatMap(({ held, before }) => [held.visit ?? [], before?.visit ?? []].flat());
  for (const visit of new Set([...changed, ...group.gathered.affected])) {
    const stored = group.overlay.ofVisit(visit).filter(isOfVisit);
    writeDerived(group, stored, visitDerived(firm, visit, group.overlay));
  }
}

/** Conflicts of the fields of records that belong to no visit: wells, units, events ... */
function deriveElsewhere(group: Group, firm: string): void {
  const changed = group.drafts.map(({ held }) => held).filter((held) => held.visit === null && held.memory !== null);
  for (const id of new Set([...changed.map((held) => held.state.id), ...group.gathered.again])) {
    const held = group.overlay.get(id);
    if (!held) continue;
    const stored = group.overlay.under(id).filter(isDerivedConflict);
    writeDerived(group, stored, fieldConflicts(firm, held));
  }
}

function deriveClaims(group: Group, firm: string): void {
  const retold = group.gathered.clashing.flatMap((id) => group.overlay.get(id) ?? []);
  for (const key of [...claimKeys(group.drafts, group.overlay), ...allClaimKeys(retold)]) {
    writeDerived(group, storedClaimConflicts(key, group.overlay), claimConflicts(firm, key, group.overlay));
  }
}

function deriveClocks(group: Group, firm: string, days: readonly ClockDay[]): void {
  const stored = days.flatMap((day) => group.overlay.get(clockFlagId(firm, day)) ?? []);
  writeDerived(group, stored, deviceClockFlags(firm, days, group.overlay));
}

/**
 * Derives what the decided mutations touch, from the overlay.
 *
 * @param days on which the clock of a device of this group was off
 */
export function deriveGroup(group: Group, firm: string, days: readonly ClockDay[]): void {
  deriveVisits(group, firm);
  deriveElsewhere(group, firm);
  deriveClaims(group, firm);
  deriveClocks(group, firm, days);
}
