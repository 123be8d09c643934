import { equipmentFacts } from '../../rules/equipment/equipment-facts.ts';
import { type OwedTold, owedItems } from '../../rules/equipment-told/owed-told.ts';
import { SEES_ALL } from '../../rules/equipment-told/sight.ts';
import { toldNames } from '../../rules/equipment-told/told-names.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { unitsOfCrew } from './units-here.ts';

/** Units that a crew has, or that were at its wells in an event, by what is on this device. */
function unitsOf(all: EquipmentHere, { crew, event }: OwedAsked): readonly string[] {
  const { index } = all.facts;
  const own = new Set(
    (all.records.visits ?? [])
      .filter(({ fields }) => fields.crew === crew && fields.event === event)
      .map(({ id }) => id),
  );
  const used = [...index.lines].flatMap(([unit, { contacts }]) =>
    contacts.some(({ visit }) => own.has(visit)) ? [unit] : [],
  );
  return [...new Set([...unitsOfCrew(all, crew).map(({ unit }) => unit.id), ...used])];
}

export interface OwedAsked {
  readonly crew: string;
  readonly event: string;
  /** By the calendar of the site; it counts as over. */
  readonly day: string;
}

/** What the equipment of a crew still owes at the end of a day, as far as this device knows of it. */
export function owedHere(all: EquipmentHere, asked: OwedAsked): OwedTold['items'] {
  const { firm, world } = all.device;
  if (firm === null) return [];
  const { day } = asked;
  const facts = equipmentFacts(all.records, { isDayClosed: (_unit, one) => one <= day });
  const crews = world.ofKind('crew').map(({ state }) => state);
  const of = { firm, units: unitsOf(all, asked), day, stored: [], looked: new Set<string>() };
  return owedItems(facts, of, { names: toldNames(facts.index, crews), sight: SEES_ALL });
}
