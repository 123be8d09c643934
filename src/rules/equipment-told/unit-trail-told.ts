import { z } from 'zod';
import { PART_TYPES } from '../../protocol/kinds/part.ts';
import { USES } from '../../protocol/kinds/unit-use.ts';
import { date, id } from '../../protocol/primitives.ts';
import { wholeStanding } from '../equipment/blank-standing.ts';
import { trailOfUnit, type UnitTrail } from '../equipment/contamination-trail.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { carryOverOutput, carryOversTold } from './carry-over-told.ts';
import { OUT_OF_SIGHT, type Sight } from './sight.ts';
import { asEntered, BLANK_STANDINGS, count, MOST_LISTED, maybeEntered, PART_ENDS, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

export const unitTrailInput = z.strictObject({
  from: date.optional().describe('Only what began on this day or later, by the date as entered'),
  until: date.optional().describe('Only what began on this day or before'),
});
export type UnitTrailGiven = z.output<typeof unitTrailInput>;

export const wellTouchedOutput = z.strictObject({
  visit: recordId('visit'),
  well: recordId('well'),
  wellName: z.string(),
  how: z.enum(USES),
  from: asEntered,
  until: maybeEntered,
});

const lists = {
  wells: z.array(wellTouchedOutput),
  decons: z.array(
    z.strictObject({
      decon: recordId('decon'),
      began: asEntered,
      protocol: z.string(),
      isClean: z.boolean(),
      sentence: z.string(),
    }),
  ),
  parts: z.array(
    z.strictObject({
      part: recordId('part'),
      type: z.enum(PART_TYPES).nullable(),
      name: z.string().nullable(),
      from: asEntered,
      until: maybeEntered.describe('When it was taken out or replaced; null while it is on'),
      endedBy: z.enum(PART_ENDS).nullable(),
      otherUnits: z.array(id).describe('On which it was as well'),
    }),
  ),
  rinsates: z.array(
    z.strictObject({
      blank: recordId('blank'),
      number: z.string(),
      collected: asEntered,
      standing: z.enum(BLANK_STANDINGS),
    }),
  ),
  samples: z.array(
    z.strictObject({
      sample: recordId('sample'),
      number: z.string(),
      collected: asEntered,
      visit: recordId('visit'),
      well: recordId('well'),
      wellName: z.string(),
    }),
  ),
  carriedOver: z.array(carryOverOutput).describe('Where it came into a well with the water of another on it'),
};

/** Everything that a unit touched, each list earliest first. */
export const unitTrailOutput = z.strictObject({
  unit: recordId('unit'),
  label: z.string().nullable(),
  ...lists,
  outOfSight: count.describe(`Of wells, rinsates and samples. ${OUT_OF_SIGHT}`),
  leftOut: count.describe(`Entries beyond the latest ${MOST_LISTED} of a list; ask for them by \`from\` and \`until\``),
});
export type UnitTrailTold = z.output<typeof unitTrailOutput>;
type Lists = { readonly [Name in keyof typeof lists]: z.output<(typeof lists)[Name]> };

function wellsOf(index: EquipmentIndex, { wells }: UnitTrail, names: ToldNames, sight: Sight): Lists['wells'] {
  return wells
    .filter(({ visit }) => sight.sees(index.visits.get(visit)?.event))
    .map(({ visit, well, how, from, until }) => ({ visit, well, wellName: names.well(well), how, from, until }));
}

function deconsOf(index: EquipmentIndex, unit: string): Lists['decons'] {
  return (index.lines.get(unit)?.decons ?? []).map(({ record, began, standing }) => {
    const { isClean, sentence } = standing;
    return { decon: record.id, began: began.at, protocol: record.fields.protocol, isClean, sentence };
  });
}

function partsOf(index: EquipmentIndex, { unit, parts }: UnitTrail, names: ToldNames): Lists['parts'] {
  const others = new Map(parts.map(({ part, otherUnits }) => [part, otherUnits]));
  return (index.staysOfUnit.get(unit) ?? []).map(({ part, from, until, endedBy }) => ({
    part,
    type: index.parts.get(part)?.fields.type ?? null,
    name: names.part(part),
    from: from.at,
    until: until?.at ?? null,
    endedBy,
    otherUnits: [...(others.get(part) ?? [])],
  }));
}

function rinsatesOf(index: EquipmentIndex, unit: string, sight: Sight): Lists['rinsates'] {
  return (index.blanksOfUnit.get(unit) ?? [])
    .filter(({ record }) => sight.sees(record.fields.event))
    .map(({ record, collected }) => ({
      blank: record.id,
      number: record.fields.number,
      collected: collected.at,
      standing: wholeStanding(index.resultsOfBlank.get(record.id) ?? []),
    }));
}

function samplesOf(index: EquipmentIndex, unit: string, names: ToldNames, sight: Sight): Lists['samples'] {
  return (index.samplesOfUnit.get(unit) ?? [])
    .filter(({ contact }) => sight.sees(index.visits.get(contact.visit)?.event))
    .map(({ record, collected, contact }) => ({
      sample: record.id,
      number: record.fields.number,
      collected: collected.at,
      visit: contact.visit,
      well: contact.well,
      wellName: names.well(contact.well),
    }));
}

/** Of the lists what began within the days asked for, and of each no more than the latest thousand. */
function within(all: Lists, { from, until }: UnitTrailGiven): { readonly lists: Lists; readonly leftOut: number } {
  let leftOut = 0;
  const cut = <Item>(items: readonly Item[], at: (item: Item) => string): Item[] => {
    const asked = items.filter((item) => {
      const day = at(item).slice(0, 10);
      return (from === undefined || day >= from) && (until === undefined || day <= until);
    });
    leftOut += Math.max(asked.length - MOST_LISTED, 0);
    return asked.slice(-MOST_LISTED);
  };
  const began = ({ from: at }: { readonly from: string }) => at;
  const { wells, decons, parts, rinsates, samples, carriedOver } = all;
  const kept = {
    wells: cut(wells, began),
    decons: cut(decons, (one) => one.began),
    parts: cut(parts, began),
    rinsates: cut(rinsates, ({ collected }) => collected),
    samples: cut(samples, ({ collected }) => collected),
    carriedOver: cut(carriedOver, began),
  };
  return { lists: kept, leftOut };
}

/** Undefined for a unit that no record names. */
export function unitTrailTold(
  index: EquipmentIndex,
  unit: string,
  given: UnitTrailGiven,
  { names, sight }: { readonly names: ToldNames; readonly sight: Sight },
): UnitTrailTold | undefined {
  const trail = trailOfUnit(index, unit);
  if (!trail) return undefined;
  const all: Lists = {
    wells: wellsOf(index, trail, names, sight),
    decons: deconsOf(index, unit),
    parts: partsOf(index, trail, names),
    rinsates: rinsatesOf(index, unit, sight),
    samples: samplesOf(index, unit, names, sight),
    carriedOver: [...carryOversTold(index, trail.carriedOver, names, sight)],
  };
  const outOfSight =
    trail.wells.length -
    all.wells.length +
    (trail.rinsates.length - all.rinsates.length) +
    (trail.samples.length - all.samples.length);
  const { lists: told, leftOut } = within(all, given);
  return { unit, label: names.unit(unit), ...told, outOfSight, leftOut };
}
