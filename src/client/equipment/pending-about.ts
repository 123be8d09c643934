import type { Overlay } from '../../rules/overlay.ts';
import type { PendingHere } from '../preview/records.ts';
import type { DeviceWorld } from './device-world.ts';

/** The fields by which a record names a unit. */
const NAMING = ['unit', 'pump', 'flowCell', 'meter', 'tape'];

/** They name a unit and change nothing of where it stands. */
const NO_STATE = ['sign-out', 'calibration-check', 'blank', 'laboratory-result'];

function names(fields: Readonly<Record<string, unknown>> | null | undefined, unit: string): boolean {
  return NAMING.some((field) => fields?.[field] === unit);
}

/** A record and what it lies under, as far as it is here. */
function fieldsUpwards(world: Overlay, id: string | null): readonly Readonly<Record<string, unknown>>[] {
  const held = id === null ? undefined : world.get(id);
  return held === undefined ? [] : [held.state.fields, ...fieldsUpwards(world, held.parent)];
}

/**
 * Own work that bears on where a unit stands and that the pulled rows do not tell of yet: its record names the unit,
 * lies under one that does, or is a visit where the unit was.
 */
export function pendingAbout(
  { pending, world }: DeviceWorld,
  unit: string,
  visits: ReadonlySet<string>,
): readonly PendingHere[] {
  return pending.filter(({ entry, mutation }) => {
    if (NO_STATE.includes(entry.kind)) return false;
    if (entry.id === unit || visits.has(entry.id) || names(mutation.set, unit)) return true;
    return fieldsUpwards(world, entry.id).some((fields) => names(fields, unit));
  });
}
