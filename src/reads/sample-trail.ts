import { Problem } from '../protocol/problem.ts';
import { carriersDuring } from '../rules/equipment/carrier.ts';
import type { EquipmentIndex } from '../rules/equipment/equipment-index.ts';
import { resultsNeeded } from '../rules/equipment-told/results-needed.ts';
import { type SampleTrailTold, sampleTrailTold } from '../rules/equipment-told/sample-trail-told.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { unitsOfVisit, unitsSharingParts } from '../store/read/units-around.ts';
import { analytesAsked, withResults } from './equipment-results-of.ts';
import { inSight } from './in-sight.ts';
import { equipmentOfUnits, sightOf } from './unit-equipment.ts';

/**
 * Blanks of any of these units, and what was found in those that failed.
 *
 * @param whole of which all results are known: some of them, looked up again, would take the place of all
 */
async function withFailedBlanks(
  tx: ReadTx,
  index: EquipmentIndex,
  sample: string,
  whole: readonly string[],
): Promise<EquipmentIndex> {
  const failed = [...index.rinsates.keys()].filter((blank) =>
    (index.resultsOfBlank.get(blank) ?? []).some(({ fields }) => fields.condition === 'detected'),
  );
  if (failed.length === 0) return withResults(tx, index, [sample], null);
  const known = await withResults(tx, index, [sample, ...failed], null);
  const found = failed
    .flatMap((blank) => known.resultsOfBlank.get(blank) ?? [])
    .filter(({ fields }) => fields.condition === 'detected');
  // on either side of a blank that failed, one that was clean of that analyte bounds it
  const others = [...index.rinsates.keys()].filter((blank) => !failed.includes(blank) && !whole.includes(blank));
  return withResults(tx, known, others, analytesAsked(found.map(({ fields }) => fields)));
}

/**
 * From a sample back to the gear that it passed, and where it stands by the blanks and wells behind that.
 *
 * @throws Problem `record_missing` for a sample that is not there, is void, or that the reader does not follow
 */
export async function sampleTrail(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<SampleTrailTold> {
  const { state } = await inSight(tx, feeds, 'sample', id);
  const visit = String(state.fields.visit);
  const units = await unitsSharingParts(tx, await unitsOfVisit(tx, visit));
  const { facts, names } = await equipmentOfUnits(tx, units);
  const carriers = (facts.index.contactsOfVisit.get(visit) ?? []).flatMap((contact) =>
    carriersDuring(facts.index, contact),
  );
  const needed = resultsNeeded(facts.index, carriers);
  const carried = await withResults(tx, facts.index, needed, null);
  const index = await withFailedBlanks(tx, carried, id, needed);
  const told = sampleTrailTold(id, { index, names, sight: sightOf(feeds), judgeOf: facts.judgeOf });
  if (told) return told;
  throw new Problem('record_missing', `sample ${id} is void, or its visit is`);
}
