import { z } from 'zod';
import { CONTAMINANT_CLASSES } from '../../catalog/decon/decon-protocol.ts';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { date, decimal, id, LONG_TEXT, text } from '../primitives.ts';

/** From least to most; product is liquid that does not mix with water, or its film. */
export const WELL_CLASSES = ['clean', 'low', 'medium', 'high', 'product'] as const;
export type WellClass = (typeof WELL_CLASSES)[number];

export const well = defineKind({
  name: 'well',
  plural: 'wells',
  family: 'fact',
  description: 'A monitoring well with its construction. Depths are in feet below the reference that it names.',
  home: { in: 'parent', field: 'site' },
  references: { site: 'site', nest: 'nest' },
  writers: OFFICE,
  fields: {
    site: id,
    name: text(64),
    standing: z.enum(['in-service', 'decommissioned', 'unknown']),
    nest: maybe(id),
    depthsFrom: z.enum(['measuring-point', 'ground']).describe('Reference of every depth of this record'),
    stickUpFt: maybe(decimal).describe('Measuring point above ground; negative for a flush mount below grade'),
    casingInsideDiameterIn: maybe(decimal).describe('Actual, not nominal'),
    casingMaterial: maybe(text(64)),
    boreholeDiameterIn: maybe(decimal),
    totalDepthFt: maybe(decimal).describe('Bottom of the well as built'),
    screenTopFt: maybe(decimal),
    screenBottomFt: maybe(decimal),
    knownToFlow: maybe(z.boolean()).describe('Flows at the surface without a pump'),
    knownToPurgeDry: maybe(z.boolean()),
    assignedClass: maybe(z.enum(WELL_CLASSES)).describe(
      'How contaminated the office takes it to be: it counts where it is worse than what the last results say',
    ),
    contaminants: maybe(z.array(z.enum(CONTAMINANT_CLASSES)).max(CONTAMINANT_CLASSES.length)).describe(
      'What a unit may carry out of it; an empty list: none. Missing: not known',
    ),
    latitudeDeg: maybe(decimal),
    longitudeDeg: maybe(decimal),
    built: maybe(date),
    remark: maybe(text(LONG_TEXT)),
  },
});
