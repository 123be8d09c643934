import { equipmentFlagsOf } from '../../../client/equipment/equipment-flags-here.ts';
import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { unitsOfCrew } from '../../../client/equipment/units-here.ts';
import { theCrew } from '../find.ts';
import type { Crew } from '../open-crew.ts';

const OFFICE = 'office';

/** What stands to be asked about the equipment of this crew, for the crew: what is for the office is told there. */
export async function openEquipmentQuestions(crew: Crew): Promise<string[]> {
  const own = await theCrew(crew).catch(() => null);
  if (own === null) return [];
  const all = await equipmentHere(crew.client);
  const units = new Set(unitsOfCrew(all, own).map(({ unit }) => unit.id));
  const flags = equipmentFlagsOf(all, own, units).filter(({ addressee }) => addressee !== OFFICE);
  return flags.map(({ addressee, sentence }) => `${addressee.padEnd(8)} ${sentence}`);
}
