import { Problem } from '../protocol/problem.ts';
import { type WellAnswer, whichWell } from '../rules/identify-well.ts';
import type { WellDepths } from '../rules/well-depth.ts';
import { nestWells } from '../store/read/nest-wells.ts';
import { type RecordRow, recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { wellInSight } from './well-in-sight.ts';

interface Asked {
  readonly well: string;
  readonly depthToBottomFt: string;
}

function depthsOf({ id, state }: RecordRow): WellDepths {
  return { id, fields: state.fields as unknown as WellDepths['fields'] };
}

async function wellsOfNest(tx: ReadTx, well: RecordRow): Promise<WellDepths[]> {
  const { nest } = well.state.fields;
  if (typeof nest !== 'string') return [];
  return (await recordStates(tx, await nestWells(tx, nest), null)).map(depthsOf);
}

/**
 * Which well was sounded, asked before the pump goes in: answered from the stored well and its nest.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for a well that is not there, is void, or that the reader does not follow
 */
export async function whichWellStands(tx: ReadTx, feeds: readonly string[] | null, asked: Asked): Promise<WellAnswer> {
  const well = await wellInSight(tx, feeds, asked.well);
  if (well.state.voided) throw new Problem('record_missing', `well ${asked.well} is void`);
  const { depthToBottomFt } = asked;
  return whichWell({ well: depthsOf(well), nestWells: await wellsOfNest(tx, well), depthToBottomFt });
}

export function readWhichWell(ctx: ReadContext, reader: Reader, asked: Asked): Promise<WellAnswer> {
  return inRead(ctx.pool, reader.firm, async (tx) => whichWellStands(tx, await feedsInSight(tx, reader), asked));
}
