import { z } from 'zod';
import type { TimelineFacts } from '../documents/unit-timeline/timeline-facts.ts';
import { date } from '../protocol/primitives.ts';
import { byId } from '../rules/equipment/by-key.ts';
import { unitStates } from '../rules/equipment/unit-state.ts';
import { seenEntries } from '../rules/equipment-told/unit-timeline-told.ts';
import { sightOf, type UnitEquipment } from './unit-equipment.ts';

export const unitPictureInput = z
  .strictObject({
    from: date
      .optional()
      .describe(
        'First day, by the calendar of the site. Default: that of the latest round, after the last pause of three weeks',
      ),
    until: date.optional().describe('Last day. Default: that of the last record'),
  })
  .superRefine(({ from, until }, ctx) => {
    if (from === undefined || until === undefined || from <= until) return;
    const message = `from is ${from} and until is ${until}: the last day is before the first`;
    ctx.addIssue({ code: 'custom', path: ['until'], message });
  });
export type UnitPictureGiven = z.output<typeof unitPictureInput>;

/** Where nothing says of which zone the clocks are. */
const NO_ZONE = 'UTC';

/** The zone of the site where it was last. */
function zoneOf({ facts, records, sites }: UnitEquipment, unit: string): string {
  const last = facts.index.lines.get(unit)?.contacts.at(-1)?.well;
  const well = byId(records.wells).get(last ?? '')?.fields as { readonly site?: string } | undefined;
  const zone = sites.get(well?.site ?? '')?.fields.timeZone ?? [...sites.values()][0]?.fields.timeZone;
  return typeof zone === 'string' ? zone : NO_ZONE;
}

/** What the picture of the life of a unit is drawn from, as far as the reader follows the events. */
export function unitPicture(
  equipment: UnitEquipment,
  feeds: readonly string[] | null,
  unit: string,
  { from, until }: UnitPictureGiven,
): TimelineFacts {
  const { facts, names } = equipment;
  const { entries } = seenEntries(facts.index, unit, sightOf(feeds));
  const named = entries.flatMap((entry): (readonly [string, string | null])[] => {
    if (entry.what === 'contact') return [[entry.well, names.well(entry.well)]];
    if (entry.what === 'part') return [[entry.part, names.part(entry.part)]];
    return entry.what === 'sign-out' ? [[entry.crew, names.crew(entry.crew)]] : [];
  });
  return {
    label: names.unit(unit) ?? unit,
    type: (facts.index.units.get(unit)?.fields.type ?? 'unit').replaceAll('-', ' '),
    states: unitStates(facts.index, unit),
    entries,
    names: new Map(named.flatMap(([id, name]) => (name === null ? [] : [[id, name] as const]))),
    timeZone: zoneOf(equipment, unit),
    from,
    until,
  };
}
