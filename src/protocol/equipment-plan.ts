import { z } from 'zod';
import { BLANK_RULE_IDS } from '../catalog/decon/blank-rules.ts';
import { DECON_PROTOCOL_IDS } from '../catalog/decon/decon-protocol.ts';
import { maybe } from './kind.ts';
import { PART_TYPES } from './kinds/part.ts';
import { decimal } from './primitives.ts';

export const LOTS_REQUIRED = [...PART_TYPES, 'fluid'] as const;

/** What a round asks of its equipment. Every option may be missing; its default stands in its description. */
export const equipmentPlan = z.strictObject({
  deconProtocols: maybe(z.array(z.enum(DECON_PROTOCOL_IDS)).max(DECON_PROTOCOL_IDS.length)).describe(
    'Protocols to clean by, the first that serves a unit before the others. Default: the first of the catalog that serves',
  ),
  partLotsRequired: maybe(z.array(z.enum(LOTS_REQUIRED)).max(LOTS_REQUIRED.length)).describe(
    'Types of parts whose lots are written down, or fluid for those of decons. Default: none',
  ),
  partsRenewed: maybe(z.array(z.enum(PART_TYPES)).max(PART_TYPES.length)).describe(
    'Types of soft parts that are renewed between wells. Default: those that the protocols used ask for; these come on top',
  ),
  rinsatePer: maybe(z.enum(['unit-and-day'])).describe(
    'How often an equipment blank is taken: through each pump on each day of its use. Default: none is asked for',
  ),
  dirtierFactor: maybe(decimal.refine((value) => Number(value) >= 1, { error: 'must not be below 1' })).describe(
    'How many times as contaminated a well must be than the next for the order to matter. Default: 10',
  ),
  blankRule: maybe(z.enum(BLANK_RULE_IDS)).describe(
    'By which rule results are weighed against a blank. Default: us-dod-2022',
  ),
});
export type EquipmentPlanFields = z.output<typeof equipmentPlan>;
