import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const cooler = defineKind({
  name: 'cooler',
  plural: 'coolers',
  family: 'fact',
  description: 'A cooler that containers travel in; it has one custody record.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', laboratory: 'laboratory' },
  writers: FIELD,
  fields: {
    event: id,
    number: text(64).describe('As written on it'),
    laboratory: maybe(id).describe('Where it goes'),
    carrier: maybe(text()).describe('Who takes it there'),
    trackingNumber: maybe(text(64)),
    packed: maybe(instant).describe('Missing while containers are still put in'),
    ice: maybe(text()).describe('How much and of what kind, as packed'),
    remark: maybe(text(LONG_TEXT)),
  },
});
