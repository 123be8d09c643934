import { z } from 'zod';
import { UNIT_STATES } from '../../protocol/kinds/unit-state.ts';
import { id } from '../../protocol/primitives.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { type TimedState, type UnitState, unitState, unitStates } from '../equipment/unit-state.ts';
import { maybeEntered, maybeRecordId, recordId } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

const stateFields = {
  state: z.enum(UNIT_STATES),
  since: maybeEntered.describe('As entered; null for what it is from the first, before any record of it'),
  because: z
    .strictObject({ record: id, kind: z.string() })
    .describe('The record that put it there; the unit itself where nothing else did'),
  sentence: z.string(),
  well: maybeRecordId('well').describe('At which it is'),
  wellName: z.string().nullable(),
};

/** Where a unit stands now. */
export const unitStateOutput = z.strictObject({ unit: recordId('unit'), ...stateFields });
export type UnitStateTold = z.output<typeof unitStateOutput>;

/** A state that it went through. */
export const unitSpanOutput = z.strictObject({
  ...stateFields,
  until: maybeEntered.describe('When the next began; null for the present one'),
});
export type UnitSpanTold = z.output<typeof unitSpanOutput>;

function told({ state, since, because, sentence, well }: UnitState, names: ToldNames) {
  return { state, since, because, sentence, well, wellName: well === null ? null : names.well(well) };
}

/** Undefined for a unit that no record names. */
export function unitStateTold(index: EquipmentIndex, unit: string, names: ToldNames): UnitStateTold | undefined {
  const state = unitState(index, unit);
  return state && { unit, ...told(state, names) };
}

/** Every state that it went through, the present one first. */
export function unitSpansTold(index: EquipmentIndex, unit: string, names: ToldNames): readonly UnitSpanTold[] {
  const spans: readonly TimedState[] = unitStates(index, unit);
  return spans.map((span, at) => ({ ...told(span, names), until: spans[at + 1]?.since ?? null })).toReversed();
}
