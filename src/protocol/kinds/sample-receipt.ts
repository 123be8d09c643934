import { z } from 'zod';
import { defineKind, FIELD_AND_LABORATORY, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, instant, LONG_TEXT, text } from '../primitives.ts';

export const TEMPERATURE_OF = ['blank', 'cooler', 'container'] as const;
export const ITEM_CONDITIONS = [
  'ok',
  'broken',
  'leaking',
  'warm',
  'frozen',
  'headspace',
  'no-label',
  'wrong-preservative',
  'missing',
  'extra',
] as const;

const item = z.strictObject({
  label: text(64).describe('As read; of a bottle without one, how it was told apart'),
  condition: z.enum(ITEM_CONDITIONS).describe('Extra: it came and was not expected; missing: the other way round'),
  ph: maybe(decimal),
  temperatureC: maybe(decimal),
  remark: maybe(text(1_000)),
});

export const sampleReceipt = defineKind({
  name: 'sample-receipt',
  plural: 'sample-receipts',
  family: 'observation',
  description:
    'What the laboratory found when it opened a cooler: temperature, ice, seals, count, condition of each bottle.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', cooler: 'cooler', laboratory: 'laboratory' },
  writers: FIELD_AND_LABORATORY,
  fields: {
    event: id,
    cooler: maybe(id).describe('Missing for bottles that came without one, or in one that nobody knows'),
    laboratory: maybe(id).describe('Which one received it. Default: where the cooler goes'),
    received: instant,
    receivedBy: maybe(text()).describe('Who opened it, by name'),
    temperatureC: maybe(decimal),
    temperatureOf: maybe(z.enum(TEMPERATURE_OF)).describe('Blank: of the temperature blank; cooler: of the air in it'),
    ice: maybe(z.boolean()).describe('Whether there was ice left'),
    sealsIntact: maybe(z.boolean()),
    sealNumbers: maybe(z.array(text(64)).max(100)).describe('As read on the seals'),
    containersCounted: maybe(z.int().min(0).max(100_000)),
    labels: maybe(z.array(text(64)).max(2_000)).describe(
      'Every label that was read in this go: each came, in whatever condition another receipt tells',
    ),
    items: maybe(z.array(item).max(2_000)).describe(
      'Bottles that something is said of; the others are as they should be',
    ),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
