import type { RecordState } from '../protocol/record.ts';
import { equipmentFacts } from '../rules/equipment/equipment-facts.ts';
import type { EquipmentRecords, ResultRecord } from '../rules/equipment/equipment-records.ts';
import type { EquipmentFacts } from '../rules/equipment/faults/equipment-rule.ts';
import { recordsOfStates } from '../rules/equipment-told/records-of-states.ts';
import type { Sight } from '../rules/equipment-told/sight.ts';
import { type ToldNames, toldNames } from '../rules/equipment-told/told-names.ts';
import { blankConditions, type ResultRow } from '../store/read/equipment-results.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { unitHistory } from '../store/read/unit-history.ts';

/** What the history of some units tells, put in order. */
export interface UnitEquipment {
  readonly records: EquipmentRecords;
  readonly facts: EquipmentFacts;
  readonly names: ToldNames;
  /** Of the wells where they were. */
  readonly sites: ReadonlyMap<string, RecordState>;
}

/** As the rules look at it; what takes a result for a record with its history asks for that record. */
export function resultRecord(row: ResultRow): ResultRecord {
  const { id, condition, ...fields } = row;
  const known = { ...fields, condition: condition as ResultRecord['fields']['condition'] };
  return { id, kind: 'laboratory-result', rev: 1, voided: null, client: null, clock: null, fields: known };
}

/**
 * Reads the history of these units in two statements, whatever its length. What blanks say as a whole is known then; what
 * was found in samples, and of which analyte, is not.
 */
export async function equipmentOfUnits(tx: ReadTx, units: readonly string[]): Promise<UnitEquipment> {
  const states = await unitHistory(tx, units);
  const given = recordsOfStates(states);
  const blanks = (given.blanks ?? []).map(({ id }) => id);
  const conditions = blanks.length === 0 ? [] : await blankConditions(tx, blanks);
  const records = { ...given, results: conditions.map(resultRecord) };
  const facts = equipmentFacts(records);
  const sites = new Map((states.get('site') ?? []).map((site) => [site.id, site]));
  return { records, facts, names: toldNames(facts.index, states.get('crew') ?? []), sites };
}

/** The feeds of events that a reader follows say what may be told. */
export function sightOf(feeds: readonly string[] | null): Sight {
  const followed = feeds === null ? null : new Set(feeds);
  return { sees: (event) => followed === null || (typeof event === 'string' && followed.has(`event:${event}`)) };
}
