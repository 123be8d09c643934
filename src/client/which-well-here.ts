import type { RecordState } from '../protocol/record.ts';
import { type WellAnswer, whichWell } from '../rules/identify-well.ts';
import type { WellDepths } from '../rules/well-depth.ts';
import type { FieldClient } from './client.ts';

function depthsOf({ id, fields }: RecordState): WellDepths {
  return { id, fields: fields as unknown as WellDepths['fields'] };
}

/**
 * Which well was sounded, asked before the pump goes in and without a signal: the same answer as
 * POST /v1/questions/which-well gives of the same wells. Null where the well is not on this device, or is void.
 */
export async function whichWellHere(
  client: FieldClient,
  wellId: string,
  depthToBottomFt: string,
): Promise<WellAnswer | null> {
  const wells = (await client.all('well')).map(({ record }) => record).filter(({ voided }) => voided === null);
  const well = wells.find(({ id }) => id === wellId);
  if (!well) return null;
  const { nest } = well.fields;
  const nestWells = wells.filter(({ fields }) => typeof nest === 'string' && fields.nest === nest).map(depthsOf);
  return whichWell({ well: depthsOf(well), nestWells, depthToBottomFt });
}
