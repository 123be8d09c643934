import { EQUIPMENT_KINDS } from '../../../src/rules/equipment/records-of-states.ts';
import { idsWhere, liveRows } from './held-statements.ts';
import type { Statements } from './statement.ts';
import type { Tables, TypedEntry } from './tables.ts';
import { textsIn } from './wire-array.ts';

type Ids = ReadonlySet<string>;

function rows(tables: Tables, table: string): TypedEntry[] {
  return [...tables.typedOf(table).values()];
}

/** The values of one column where another is among these ids. */
function column(tables: Tables, table: string, wanted: string, where: string, ids: Ids): string[] {
  return rows(tables, table).flatMap((row) => {
    const value = row[wanted];
    return ids.has(String(row[where])) && value !== null && value !== undefined ? [String(value)] : [];
  });
}

function unitsOfVisits(tables: Tables, visits: Ids): string[] {
  const purges = new Set(column(tables, 'purge', 'id', 'visit', visits));
  return [
    ...column(tables, 'pump_set_up', 'pump', 'visit', visits),
    ...column(tables, 'pump_set_up', 'flow_cell', 'visit', visits),
    ...column(tables, 'unit_use', 'unit', 'visit', visits),
    ...column(tables, 'water_level', 'tape', 'visit', visits),
    ...column(tables, 'sounding', 'tape', 'visit', visits),
    ...column(tables, 'reading', 'meter', 'purge', purges),
  ];
}

function unitsOfParts(tables: Tables, parts: Ids): string[] {
  const decons = new Set(column(tables, 'decon_step', 'decon', 'part', parts));
  return [...column(tables, 'part_change', 'unit', 'part', parts), ...column(tables, 'decon', 'unit', 'id', decons)];
}

function partsOfUnits(tables: Tables, units: Ids): Ids {
  const decons = new Set(column(tables, 'decon', 'id', 'unit', units));
  return new Set([
    ...column(tables, 'part_change', 'part', 'unit', units),
    ...column(tables, 'decon_step', 'part', 'decon', decons),
  ]);
}

function around(tables: Tables, given: readonly Ids[]): object[] {
  const [units, parts, wells, sampled, events, retyped, named] = given as [Ids, Ids, Ids, Ids, Ids, Ids, Ids];
  const visits = new Set([
    ...named,
    ...column(tables, 'visit', 'id', 'well', wells),
    ...column(tables, 'visit', 'id', 'event', events),
    ...column(tables, 'pump_set_up', 'visit', 'pump', retyped),
    ...column(tables, 'pump_set_up', 'visit', 'flow_cell', retyped),
    ...column(tables, 'unit_use', 'visit', 'unit', retyped),
  ]);
  const ofSampled = new Set(column(tables, 'visit', 'id', 'well', sampled));
  const all = new Set([
    ...parts,
    ...column(tables, 'part', 'id', 'dedicated_to', wells),
    ...column(tables, 'part_change', 'part', 'well', wells),
  ]);
  const decons = new Set(column(tables, 'blank', 'decon', 'event', events));
  const near = new Map<string, number>();
  let next: string[] = [
    ...units,
    ...unitsOfVisits(tables, visits),
    ...column(tables, 'pump_set_up', 'pump', 'visit', ofSampled),
    ...column(tables, 'unit_use', 'unit', 'visit', ofSampled),
    ...column(tables, 'water_level', 'tape', 'visit', ofSampled),
    ...column(tables, 'sounding', 'tape', 'visit', ofSampled),
    ...column(tables, 'unit', 'id', 'dedicated_to', wells),
    ...unitsOfParts(tables, all),
    ...column(tables, 'decon', 'unit', 'event', events),
    ...column(tables, 'blank', 'unit', 'event', events),
    ...column(tables, 'decon', 'unit', 'id', decons),
  ];
  for (let depth = 0; depth <= 2; depth += 1) {
    for (const unit of next) if (!near.has(unit)) near.set(unit, depth);
    next = unitsOfParts(tables, partsOfUnits(tables, new Set(next)));
  }
  return [...near].map(([unit, depth]) => ({ unit, depth }));
}

/** What units are judged by. */
export const EQUIPMENT_STATEMENTS: Statements = {
  'units-around': (tables, [, ...ids]) =>
    around(
      tables,
      ids.map((one) => new Set(textsIn(one))),
    ),
  /** Everything of the firm that tells of equipment: more than is asked for changes nothing. */
  'unit-record-keys': (tables) => {
    const heads = [...tables.live.values()].filter(({ kind }) => EQUIPMENT_KINDS.includes(kind));
    const keys = heads.flatMap(({ id, rowHash }) => [
      Buffer.from(id.replaceAll('-', ''), 'hex'),
      rowHash ?? Buffer.alloc(8),
    ]);
    return [{ keys: heads.length === 0 ? null : Buffer.concat(keys) }];
  },
  'states-by-id': (tables, [, ids]) => liveRows(tables, textsIn(ids)),
  'numbered-in-events': (tables, [, events, numbers]) => {
    const [ofEvents, wanted] = [new Set(textsIn(events)), numbers as readonly string[] | null];
    const fits = ({ number, voided }: TypedEntry) =>
      voided !== true && (wanted === null || wanted.includes(String(number)));
    const visits = rows(tables, 'visit').filter(({ event }) => ofEvents.has(String(event)));
    const samples = visits.flatMap((visit) =>
      rows(tables, 'sample').flatMap((one) => {
        if (one.visit !== visit.id || !fits(one)) return [];
        return [{ event: visit.event, visit: visit.id, isVoid: visit.voided === true, id: String(one.id) }];
      }),
    );
    const blanks = rows(tables, 'blank').flatMap((one) =>
      ofEvents.has(String(one.event)) && fits(one)
        ? [{ event: one.event, visit: null, isVoid: false, id: String(one.id) }]
        : [],
    );
    return [...samples, ...blanks].flatMap(({ id, ...of }) => liveRows(tables, [id]).map((row) => ({ ...row, ...of })));
  },
  'held-unit-flags': (tables, [, units]) => {
    const wanted = new Set(textsIn(units));
    const fits = ({ unit, voided }: TypedEntry) => voided !== true && wanted.has(String(unit));
    return liveRows(tables, idsWhere(tables, 'flag', fits));
  },
};
