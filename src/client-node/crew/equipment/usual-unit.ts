import { equipmentHere } from '../../../client/equipment/equipment-here.ts';
import { unitsOfCrew } from '../../../client/equipment/units-here.ts';
import type { UnitType } from '../../../rules/equipment/equipment-records.ts';
import { theCrew } from '../find.ts';
import type { Crew } from '../open-crew.ts';

/**
 * The meter or tape that a line was read with, where nobody says: the only one of its type that the crew has signed out.
 * Which of two it was is not guessed.
 */
export async function usualUnit(crew: Crew, type: UnitType): Promise<string | undefined> {
  const units = unitsOfCrew(await equipmentHere(crew.client), await theCrew(crew));
  const [only, ...more] = units.filter(({ unit }) => unit.fields.type === type);
  if (!only || more.length > 0) return undefined;
  crew.say(`read with ${only.unit.fields.label}, which you signed out`);
  return only.unit.id;
}
