import { kindNamed } from '../protocol/kinds-by-name.ts';
import { Problem } from '../protocol/problem.ts';
import { type WellAnswer, whichWell } from '../rules/identify-well.ts';
import type { WellDepths } from '../rules/well-depth.ts';
import { nestWells } from '../store/read/nest-wells.ts';
import { recordsById, type StoredRecord } from '../store/read/records.ts';
import type { RecordsTx } from '../store/records.ts';
import { visibleRecord } from './one-record.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { visibleFeeds } from './visible-feeds.ts';

function depthsOf({ state }: StoredRecord): WellDepths {
  return { id: state.id, fields: state.fields as unknown as WellDepths['fields'] };
}

async function wellsOfNest(tx: RecordsTx, well: StoredRecord): Promise<WellDepths[]> {
  const { nest } = well.state.fields;
  if (typeof nest !== 'string') return [];
  return (await recordsById(tx, await nestWells(tx, nest))).map(depthsOf);
}

/** Which well was sounded, asked before the pump goes in: answered from the stored well and its nest. */
export async function whichWellStands(
  ctx: ReadContext,
  reader: Reader,
  question: { readonly well: string; readonly depthToBottomFt: string },
): Promise<WellAnswer> {
  const kind = kindNamed('well');
  if (!kind) throw new Error('there is no kind well');
  const visible = await visibleFeeds(ctx, reader);
  return ctx.records.read(reader.firm, async (tx) => {
    const well = await visibleRecord(tx, visible, kind, question.well);
    if (well.state.voided) throw new Problem('record_missing', `well ${question.well} is void`);
    const { depthToBottomFt } = question;
    return whichWell({ well: depthsOf(well), nestWells: await wellsOfNest(tx, well), depthToBottomFt });
  });
}
