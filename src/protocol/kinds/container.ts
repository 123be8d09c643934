import { z } from 'zod';
import { CONTAINER_KINDS, CONTAINER_MATERIALS, PRESERVATIVES } from '../../catalog/analytes/analyte-group.ts';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const CONTAINER_COLOURS = ['amber', 'clear'] as const;
export const CONTAINER_PRESERVATIVES = [...PRESERVATIVES, 'other'] as const;
export const CONTAINER_STANDINGS = ['expected', 'filled', 'discarded', 'dropped'] as const;

/** What a container is and what is in it before water is; an analyte suite orders it by the same words. */
export const containerParts = {
  material: maybe(z.enum(CONTAINER_MATERIALS)),
  colour: maybe(z.enum(CONTAINER_COLOURS)),
  preservatives: maybe(z.array(z.enum(CONTAINER_PRESERVATIVES)).max(CONTAINER_PRESERVATIVES.length)).describe(
    'All that is in it; none where nothing is added, and missing where that is not known',
  ),
};

export const container = defineKind({
  name: 'container',
  plural: 'containers',
  family: 'fact',
  description: 'A bottle or vial of a sample or a blank, from the order to the cooler: expected, filled or left out.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', sample: 'sample', blank: 'blank', planned: 'planned-sample', cooler: 'cooler' },
  writers: FIELD,
  fields: {
    event: id,
    sample: maybe(id).describe('Whose water it holds; a container is of a sample or of a blank'),
    blank: maybe(id),
    planned: maybe(id).describe('The planned sample that it was labelled for, before any water is in it'),
    group: text(64).describe(
      'Id of a group of analytes of the catalog; of one that it does not hold no clock is known',
    ),
    alsoGroups: maybe(z.array(text(64)).max(40)).describe(
      'Further groups of which the same bottle serves the analysis; `group` is the one whose clock runs out first',
    ),
    suite: maybe(text(64)).describe('The analyte suite that asks for it'),
    type: z.enum(CONTAINER_KINDS),
    ...containerParts,
    volumeMl: decimal.describe('What it takes'),
    lot: maybe(text(64)).describe('Of the container with its preservative, as on the box'),
    label: text(64).describe('Text on its label; no two of an event have the same'),
    cooler: maybe(id).describe('In which it is packed'),
    standing: z.enum(CONTAINER_STANDINGS).describe('Discarded: filled and thrown away; dropped: never to be filled'),
    droppedBecause: maybe(text(LONG_TEXT)),
    agreedBy: maybe(text()).describe('Who agreed that it is left out'),
    remark: maybe(text(LONG_TEXT)),
  },
});
