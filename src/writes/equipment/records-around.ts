import type { RecordState } from '../../protocol/record.ts';
import type { EquipmentRecords } from '../../rules/equipment/equipment-records.ts';
import { EQUIPMENT_KINDS, recordsOfStates } from '../../rules/equipment/records-of-states.ts';
import type { Overlay } from '../../rules/overlay.ts';

/** What is stored around some units, overlaid with what was decided so far. */
export function recordsAround(overlay: Overlay, stored: readonly RecordState[]): EquipmentRecords {
  const decided = EQUIPMENT_KINDS.flatMap((kind) => overlay.ofKind(kind)).map(({ state }) => state);
  return recordsOfStates([...decided, ...stored.filter(({ id }) => overlay.get(id) === undefined)]);
}
