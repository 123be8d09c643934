import type { FieldsOf } from '../../protocol/kind.ts';
import type { unitState as unitStateKind } from '../../protocol/kinds/unit-state.ts';
import type { RecordState } from '../../protocol/record.ts';
import { equipmentFacts } from '../../rules/equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../../rules/equipment/equipment-records.ts';
import type { EquipmentFacts } from '../../rules/equipment/faults/equipment-rule.ts';
import { EQUIPMENT_KINDS, recordsOfStates } from '../../rules/equipment/records-of-states.ts';
import type { FieldClient } from '../client.ts';
import { type DeviceWorld, deviceWorld, layOver } from './device-world.ts';

export type UnitStateFields = FieldsOf<typeof unitStateKind>;

/** What follows here of equipment, from what was pulled and the own work over it, by the rules of the server. */
export interface EquipmentHere {
  readonly device: DeviceWorld;
  readonly records: EquipmentRecords;
  readonly facts: EquipmentFacts;
  /** What the server said last, by unit. */
  readonly server: ReadonlyMap<string, RecordState<UnitStateFields>>;
}

/** Of a world as it is laid over so far. */
export function equipmentOf(device: DeviceWorld): EquipmentHere {
  const held = EQUIPMENT_KINDS.flatMap((kind) => device.world.ofKind(kind));
  const records = recordsOfStates(held.map(({ state }) => state));
  const states = device.world.ofKind('unit-state').map(({ state }) => state as unknown as RecordState<UnitStateFields>);
  const server = new Map(states.map((state) => [state.fields.unit, state]));
  return { device, records, facts: equipmentFacts(records), server };
}

/** One look at all of it: several questions of one screen are asked of the same look. */
export async function equipmentHere(client: FieldClient): Promise<EquipmentHere> {
  const device = await deviceWorld(client);
  layOver(device, device.pending);
  return equipmentOf(device);
}
