import { equipmentDerived } from '../../rules/derive/equipment-derived.ts';
import { equipmentFindings } from '../../rules/equipment/faults.ts';
import type { FlagFields } from '../preview/preview.ts';
import type { EquipmentHere } from './equipment-here.ts';

/** What stands to be asked about equipment by what is here; what somebody has reviewed is not asked again. */
export function equipmentFlagsHere({ device, facts }: EquipmentHere): readonly FlagFields[] {
  if (device.firm === null) return [];
  const said = { states: [], findings: equipmentFindings(facts) };
  const flags = equipmentDerived(device.firm, said, device.world).map(({ fields }) => fields as unknown as FlagFields);
  return flags.filter(({ standing }) => standing === 'raised');
}

/** Those about the units that a crew has now, and about its own visits. */
export function equipmentFlagsOf(all: EquipmentHere, crew: string, units: ReadonlySet<string>): readonly FlagFields[] {
  const isOwn = (visit: string | undefined) => visit !== undefined && all.facts.index.visits.get(visit)?.crew === crew;
  return equipmentFlagsHere(all).filter(({ unit, visit }) => isOwn(visit) || (unit !== undefined && units.has(unit)));
}
