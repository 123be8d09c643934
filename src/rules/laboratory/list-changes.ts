import { isSameJson } from '../../protocol/same-json.ts';
import { type ToldContainer, type ToldToLaboratory, toldRow } from './laboratory-list.ts';
import type { SampleListRow } from './list-row.ts';
import { inOneOrder, type Numbered } from './one-order.ts';

export interface ListChanges {
  readonly added: readonly SampleListRow[];
  /** With the number and label under which it was told before. */
  readonly changed: readonly { readonly was: Numbered; readonly row: SampleListRow }[];
  readonly noLongerListed: readonly Numbered[];
}

interface Told {
  readonly one: ToldContainer;
  readonly row: SampleListRow;
}

function byContainer(told: ToldToLaboratory): ReadonlyMap<string, Told> {
  // told apart as on the list itself
  const rows = inOneOrder(told.containers).map((one) => ({ one, row: toldRow(told, one) }));
  return new Map(rows.map((its) => [its.one.container.id, its]));
}

function numbered({ sampleNumber, labelId }: Numbered): Numbered {
  return { sampleNumber, labelId };
}

/**
 * What became of a laboratory's list between two points of the history, in the order of the list: which bottle was recorded
 * first does not show in it.
 */
export function listChanges(before: ToldToLaboratory, now: ToldToLaboratory): ListChanges {
  const [were, are] = [byContainer(before), byContainer(now)];
  const added: SampleListRow[] = [];
  const changed: { was: Numbered; row: SampleListRow }[] = [];
  for (const [id, { row }] of are) {
    const was = were.get(id);
    if (was === undefined) added.push(row);
    else if (!isSameJson(was.row, row)) changed.push({ was: numbered(was.row), row });
  }
  const gone = [...were].flatMap(([id, { row }]) => (are.has(id) ? [] : [numbered(row)]));
  return { added, changed, noLongerListed: gone };
}
