import type { BlankRecord } from '../rules/equipment/equipment-records.ts';
import { type BlankSamplesGiven, type BlankSamplesTold, blankSamplesTold } from '../rules/equipment-told/blank-told.ts';
import { recordStates } from '../store/read/record-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { unitsSharingParts } from '../store/read/units-around.ts';
import { analytesAsked, withResults } from './equipment-results-of.ts';
import { inSight } from './in-sight.ts';
import { equipmentOfUnits, sightOf } from './unit-equipment.ts';

async function unitOf(tx: ReadTx, { unit, decon }: BlankRecord['fields']): Promise<string | null> {
  if (unit || !decon) return unit ?? null;
  const [row] = await recordStates(tx, [decon], null);
  return row ? String(row.state.fields.unit) : null;
}

/**
 * The samples behind a blank that failed, by analyte.
 *
 * @throws Problem `record_missing` for a blank that is not there, or that the reader does not follow
 */
export async function blankSamples(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  given: BlankSamplesGiven,
): Promise<BlankSamplesTold> {
  const { state } = await inSight(tx, feeds, 'blank', id);
  const blank = state as unknown as BlankRecord;
  const unit = await unitOf(tx, blank.fields);
  const units = unit === null ? [] : await unitsSharingParts(tx, [unit]);
  const { facts, names } = await equipmentOfUnits(tx, units);
  const own = await withResults(tx, facts.index, [id], null);
  const found = (own.resultsOfBlank.get(id) ?? []).filter(({ fields }) => fields.condition === 'detected');
  const others = [...own.samples.keys(), ...own.rinsates.keys()].filter((one) => one !== id);
  const asked = analytesAsked(found.map(({ fields }) => fields));
  const index = found.length === 0 ? own : await withResults(tx, own, others, asked);
  const { number } = blank.fields;
  return blankSamplesTold({ id, number, unit }, facts.judgeOf(blank), given, { index, names, sight: sightOf(feeds) });
}
