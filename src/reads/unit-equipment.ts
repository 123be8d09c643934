import { DECON_PROTOCOLS } from '../catalog/decon/decon-protocols.ts';
import type { RecordState } from '../protocol/record.ts';
import { equipmentFacts, type KnownBetter } from '../rules/equipment/equipment-facts.ts';
import type { DeconStepRecord, EquipmentRecords, ResultRecord } from '../rules/equipment/equipment-records.ts';
import type { EquipmentFacts } from '../rules/equipment/faults/equipment-rule.ts';
import { recordsOfStates } from '../rules/equipment-told/records-of-states.ts';
import type { Sight } from '../rules/equipment-told/sight.ts';
import { type ToldNames, toldNames } from '../rules/equipment-told/told-names.ts';
import { blankConditions, type ResultRow } from '../store/read/equipment-results.ts';
import { type PlainStepRow, plainSteps } from '../store/read/plain-steps.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { type EventReach, unitHistory, unitHistoryOfEvent } from '../store/read/unit-history.ts';

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

/** Steps by which a part is replaced. */
const PART_STEPS = [
  ...new Set(DECON_PROTOCOLS.flatMap(({ steps }) => steps.flatMap(({ id, change }) => (change ? [id] : [])))),
];

/** When it was seen is told in UTC: it is compared with the times of others and never shown. */
function stepRecord([id, decon, step, done, fluid, lot, deviation, at]: PlainStepRow): DeconStepRecord {
  const observed = { at, captured: 'at-the-well' as const };
  const fields = { decon, step, done, fluid, lot, deviation, observed };
  return { id, kind: 'decon-step', rev: 1, voided: null, client: null, clock: null, fields };
}

/**
 * Reads the history of these units in three statements, whatever its length. What blanks say as a whole is known then; what
 * was found in samples, and of which analyte, is not.
 */
export async function equipmentOfUnits(
  tx: ReadTx,
  units: readonly string[],
  better: KnownBetter & { readonly ofEvent?: EventReach } = {},
): Promise<UnitEquipment> {
  const { ofEvent } = better;
  const states = ofEvent
    ? await unitHistoryOfEvent(tx, units, PART_STEPS, ofEvent)
    : await unitHistory(tx, units, PART_STEPS);
  const plain = await plainSteps(tx, units, PART_STEPS, ofEvent?.since);
  const given = recordsOfStates(states);
  const blanks = (given.blanks ?? []).map(({ id }) => id);
  const conditions = blanks.length === 0 ? [] : await blankConditions(tx, blanks);
  const deconSteps = [...(given.deconSteps ?? []), ...plain.map(stepRecord)];
  const records = { ...given, deconSteps, results: conditions.map(resultRecord) };
  const facts = equipmentFacts(records, better);
  const sites = new Map((states.get('site') ?? []).map((site) => [site.id, site]));
  return { records, facts, names: toldNames(facts.index, states.get('crew') ?? []), sites };
}

/** The feeds of events that a reader follows say what may be told. */
export function sightOf(feeds: readonly string[] | null): Sight {
  const followed = feeds === null ? null : new Set(feeds);
  return { sees: (event) => followed === null || (typeof event === 'string' && followed.has(`event:${event}`)) };
}
