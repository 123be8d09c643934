import type { RecordState } from '../protocol/record.ts';
import { type FillOrderGiven, type FillOrderTold, fillOrderTold } from '../rules/samples/fill-order/fill-order-told.ts';
import { type FillRecords, fillRecords } from '../rules/samples/fill-order/fill-records.ts';
import {
  type ShortWaterGiven,
  type ShortWaterTold,
  shortWaterTold,
} from '../rules/samples/short-water/short-water-told.ts';
import type { ClientContext } from './context.ts';
import { viewAll, viewOne } from './view.ts';

async function statesOf(context: ClientContext, kind: string): Promise<RecordState[]> {
  return (await viewAll(context, kind)).map(({ record }) => record);
}

/** Those of a kind that name one of these records in a field. */
async function naming(context: ClientContext, kind: string, field: string, ids: readonly string[]) {
  const wanted = new Set<unknown>(ids);
  return (await statesOf(context, kind)).filter(({ fields }) => wanted.has(fields[field]));
}

function idsOf(states: readonly RecordState[]): string[] {
  return states.map(({ id }) => id);
}

/** What this device has of the containers of a visit; null where it does not hold the visit. */
export async function fillsHere(context: ClientContext, visit: string): Promise<FillRecords | null> {
  const found = (await viewOne(context, visit))?.record;
  if (found?.kind !== 'visit' || found.voided !== null) return null;
  const { event, well } = found.fields;
  const samples = await naming(context, 'sample', 'visit', [visit]);
  const purges = await naming(context, 'purge', 'visit', [visit]);
  const planned = await naming(context, 'planned-sample', 'well', [String(well)]);
  const ofEvent = planned.filter(({ fields }) => fields.event === event);
  const containers = await naming(context, 'container', 'event', [String(event)]);
  return fillRecords(found, [
    ...(await statesOf(context, 'event')),
    ...samples,
    ...purges,
    ...ofEvent,
    ...containers,
    ...(await naming(context, 'fill', 'container', idsOf(containers))),
    ...(await naming(context, 'call', 'purge', idsOf(purges))),
    ...(await naming(context, 'reading', 'purge', idsOf(purges))),
    ...(await statesOf(context, 'analyte-suite')),
  ]);
}

/** The containers of a visit in the order to fill, without a signal: the same answer as GET /v1/visits/ID/fill-order. */
export async function fillOrderAt(
  context: ClientContext,
  visit: string,
  asked: FillOrderGiven = {},
): Promise<FillOrderTold | null> {
  const records = await fillsHere(context, visit);
  return records && fillOrderTold(records, asked);
}

/** What is filled of the water that is left, without a signal: the same answer as GET /v1/visits/ID/short-water. */
export async function shortWaterAt(
  context: ClientContext,
  visit: string,
  asked: ShortWaterGiven = {},
): Promise<ShortWaterTold | null> {
  const records = await fillsHere(context, visit);
  return records && shortWaterTold(records, asked);
}
