import { Problem } from '../protocol/problem.ts';
import { presentPointSinceMs } from '../rules/decide/measuring-point-at.ts';
import {
  type LatestObserved,
  type RecordsForPlan,
  type StoredPlan,
  storedPlan,
} from '../rules/pump-set-up/stored-plan.ts';
import type { StoredPlanInput } from '../rules/pump-set-up/stored-plan-input.ts';
import { instantMs } from '../science/instant-ms.ts';
import { type LatestOf, latestAtWell, pointsOfWell, summariesOfWell } from '../store/read/latest-at-well.ts';
import { type RecordRow, recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

type Feeds = readonly string[] | null;

/** The field that says it, in the observation itself and in the summary of a visit. */
const FIELD: Readonly<Record<LatestOf, string>> = {
  level: 'depthToWaterFt',
  bottom: 'depthToBottomFt',
  intake: 'intakeDepthFt',
};

/** Each record under its id, of the kind and in the count. @throws Problem `record_missing` naming the place */
function counted(rows: readonly RecordRow[], kind: string, id: string, pointer: string): RecordRow {
  const row = rows.find((one) => one.id === id && one.kind === kind);
  if (!row) throw new Problem('record_missing', `no ${kind} ${id} is among the records that you may read`, { pointer });
  if (row.state.voided) throw new Problem('record_missing', `${kind} ${id} is void`, { pointer });
  return row;
}

function observedIn({ id, kind, state }: RecordRow, of: LatestOf): LatestObserved | null {
  const { observed, arrived, [FIELD[of]]: figure } = state.fields;
  const at = (observed as { at?: string } | undefined)?.at ?? arrived;
  return typeof figure === 'string' && typeof at === 'string' ? { record: id, kind, at, figure } : null;
}

/** What a crew does not follow, an event of last year, is still told by the summary beside the well. */
async function latest(
  tx: ReadTx,
  feeds: Feeds,
  well: string,
  of: LatestOf,
  summaries: readonly RecordRow[],
): Promise<LatestObserved | null> {
  const observation = await latestAtWell(tx, of, well, feeds);
  const rows = observation === null ? [] : await recordStates(tx, [observation], feeds);
  const found = [...rows, ...summaries].flatMap((row) => observedIn(row, of) ?? []);
  return found.toSorted((a, b) => instantMs(b.at) - instantMs(a.at)).at(0) ?? null;
}

async function recordsForPlan(tx: ReadTx, feeds: Feeds, id: string, asked: StoredPlanInput): Promise<RecordsForPlan> {
  const units = [...new Set(asked.units ?? [])];
  const rows = await recordStates(tx, [id, ...units], feeds);
  const well = counted(rows, 'well', id, '');
  const summaries = await recordStates(tx, await summariesOfWell(tx, id), feeds);
  const points = await recordStates(tx, await pointsOfWell(tx, id), feeds);
  const of = (what: LatestOf) => latest(tx, feeds, id, what, summaries);
  return {
    well: { id, fields: well.state.fields as unknown as RecordsForPlan['well']['fields'] },
    pointSinceMs: presentPointSinceMs(points.map(({ state }) => state)),
    level: await of('level'),
    bottom: await of('bottom'),
    intake: await of('intake'),
    units: units.map((unit, index) => {
      const { fields } = counted(rows, 'unit', unit, `/units/${index}`).state;
      return { id: unit, fields: fields as unknown as RecordsForPlan['units'][number]['fields'] };
    }),
  };
}

/**
 * How a pump is set up in a well, from what is on record of it; nothing is stored.
 *
 * @throws Problem `record_missing` for a well or unit that the reader does not see
 */
export async function wellSetUpPlan(
  tx: ReadTx,
  feeds: Feeds,
  well: string,
  asked: StoredPlanInput,
): Promise<StoredPlan> {
  return storedPlan(await recordsForPlan(tx, feeds, well, asked), asked);
}

export function readWellSetUpPlan(
  ctx: ReadContext,
  reader: Reader,
  well: string,
  asked: StoredPlanInput,
): Promise<StoredPlan> {
  return inRead(ctx.pool, reader.firm, async (tx) => wellSetUpPlan(tx, await feedsInSight(tx, reader), well, asked));
}
