import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const pumpSetUp = defineKind({
  name: 'pump-set-up',
  plural: 'pump-set-ups',
  family: 'observation',
  description: 'How a pump was put into a well: which pump, where its intake hangs, what tubing and cell follow.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit', pump: 'unit', flowCell: 'unit' },
  writers: FIELD,
  fields: {
    visit: id,
    pump: id,
    intakeDepthFt: maybe(decimal).describe('Below the measuring point'),
    tubingInsideDiameterIn: maybe(decimal),
    tubingLengthFt: maybe(decimal),
    tubingMaterial: maybe(text(64)),
    bladderMaterial: maybe(text(64)),
    drivePressurePsi: maybe(decimal),
    refillS: maybe(decimal),
    dischargeS: maybe(decimal),
    flowCell: maybe(id),
    flowCellVolumeMl: maybe(decimal).describe('Where it differs from what the unit says, or no unit is named'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
