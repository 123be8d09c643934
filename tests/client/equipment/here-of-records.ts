import type { EquipmentHere } from '../../../src/client/equipment/equipment-here.ts';
import { Replay } from '../../../src/client/preview/replay.ts';
import { equipmentFacts, type KnownBetter } from '../../../src/rules/equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { Overlay } from '../../../src/rules/overlay.ts';

/** A device that was told these records and has no own work. */
export function hereOfRecords(records: EquipmentRecords, better: KnownBetter = {}): EquipmentHere {
  const world = new Overlay();
  const replay = new Replay(world, null, null);
  const device = { firm: null, world, replay, pending: [], feeds: [], isClockKnown: true, clock: null };
  return { device, records, facts: equipmentFacts(records, better), server: new Map() };
}
