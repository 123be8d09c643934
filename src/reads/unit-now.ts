import type { RecordState } from '../protocol/record.ts';
import { type UnitStateTold, unitStateTold } from '../rules/equipment-told/unit-state-told.ts';
import { recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { storedUnitStates } from '../store/read/unit-states.ts';
import type { UnitEquipment } from './unit-equipment.ts';

interface StateFields {
  readonly unit: string;
  readonly state: UnitStateTold['state'];
  readonly since?: string | null;
  readonly becauseRecord: string;
  readonly becauseKind: string;
  readonly sentence: string;
  readonly well?: string | null;
}

function told({ fields }: RecordState, wells: ReadonlyMap<string, string>): UnitStateTold {
  const { unit, state, since, becauseRecord, becauseKind, sentence, well } = fields as unknown as StateFields;
  const wellName = well ? (wells.get(well) ?? null) : null;
  const because = { record: becauseRecord, kind: becauseKind };
  return { unit, state, since: since ?? null, because, sentence, well: well ?? null, wellName };
}

/** Where each of these units stands, as it was derived when anything of it was last written; null where nothing was. */
export async function unitsNow(tx: ReadTx, units: readonly string[]): Promise<(UnitStateTold | null)[]> {
  const states = (await recordStates(tx, await storedUnitStates(tx, units), null)).map(({ state }) => state);
  const wells = [...new Set(states.flatMap(({ fields }) => (typeof fields.well === 'string' ? [fields.well] : [])))];
  const rows = wells.length === 0 ? [] : await recordStates(tx, wells, null);
  const names = new Map(rows.map(({ id, state }) => [id, String(state.fields.name)]));
  const ofUnit = new Map(states.map((state) => [state.fields.unit, told(state, names)]));
  return units.map((unit) => ofUnit.get(unit) ?? null);
}

/** By the records alone, for a unit of which nothing was derived yet. */
export function unitByRecords({ facts, names }: UnitEquipment, unit: string): UnitStateTold | null {
  return unitStateTold(facts.index, unit, names) ?? null;
}
