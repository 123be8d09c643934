import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, instant, LONG_TEXT, text } from '../primitives.ts';

export const fill = defineKind({
  name: 'fill',
  plural: 'fills',
  family: 'observation',
  description: 'A container was filled: how much, how fast, filtered or not, and what was seen of it.',
  home: { in: 'parent', field: 'container' },
  references: { container: 'container', visit: 'visit' },
  writers: FIELD,
  fields: {
    container: id,
    visit: maybe(id).describe('At which it was filled; missing for a blank that was made elsewhere'),
    volumeMl: maybe(decimal).describe('Water in it. Default: it is full'),
    flowMlPerMin: maybe(decimal).describe('While it was filled'),
    filtered: maybe(z.boolean()).describe('False: it was not; missing: nobody said'),
    filterPoreUm: maybe(decimal).describe('Pore size of the filter, in micrometres'),
    filterLot: maybe(text(64)),
    preserved: maybe(z.boolean()).describe('Whether the preservative is in it'),
    ph: maybe(decimal).describe('By test strip, of what was poured over it'),
    bubble: maybe(z.boolean()).describe('Whether air was seen in it once it was capped'),
    cellOff: maybe(z.boolean()).describe('Whether the flow cell was off the line'),
    began: maybe(instant).describe('First water into it'),
    collected: instant.describe('From when its clocks run, as on its label'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
