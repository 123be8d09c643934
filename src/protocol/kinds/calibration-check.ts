import { z } from 'zod';
import { CHECK_PARAMETERS } from '../../catalog/calibration/check-limit-set.ts';
import { CONDUCTIVITY_STANDARD_IDS } from '../../catalog/standards/conductivity-standards.ts';
import { PH_BUFFER_IDS } from '../../catalog/standards/ph-buffers.ts';
import { REFERENCE_ELECTRODE_IDS } from '../../catalog/standards/reference-electrodes.ts';
import { ZOBELL_TABLE_IDS } from '../../catalog/standards/zobell-tables.ts';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { date, decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const CHECK_ACTS = ['calibrated', 'checked'] as const;
export const DAY_PARTS = ['start', 'mid', 'end'] as const;
export const TURBIDITY_UNITS = ['NTU', 'FNU'] as const;
export const CONDUCTANCE_SHOWN = ['at-25', 'raw'] as const;

export const calibrationCheck = defineKind({
  name: 'calibration-check',
  plural: 'calibration-checks',
  family: 'observation',
  description: 'One standard read with one sensor of a meter: the meter was set to it, or read it like a sample.',
  home: { in: 'parent', field: 'unit' },
  references: { unit: 'unit' },
  writers: FIELD,
  fields: {
    unit: id.describe('The meter'),
    parameter: z.enum(CHECK_PARAMETERS).describe('zero-oxygen: the oxygen sensor in water without oxygen'),
    act: z.enum(CHECK_ACTS).describe('Set to the standard, or the standard read as if it were a sample'),
    part: z.enum(DAY_PARTS).describe('Of the day'),
    reading: maybe(decimal).describe('What the meter showed; of a calibration after adjusting'),
    turbidityUnit: maybe(z.enum(TURBIDITY_UNITS)).describe('As the meter shows'),
    nominal: maybe(decimal).describe('On the label; for temperature the reading of the reference thermometer'),
    valueAtTemperature: maybe(decimal).describe('Of the standard at its temperature, from the table of the bottle'),
    temperatureC: maybe(decimal).describe('Of the standard'),
    buffer: maybe(z.enum(PH_BUFFER_IDS)).describe('By recipe'),
    conductivityStandard: maybe(z.enum(CONDUCTIVITY_STANDARD_IDS)).describe('Where it is potassium chloride'),
    conductanceShown: maybe(z.enum(CONDUCTANCE_SHOWN)).describe('What the meter shows. Default: at-25'),
    zobell: maybe(z.enum(ZOBELL_TABLE_IDS)).describe('Which form of the ORP solution'),
    referenceElectrode: maybe(z.enum(REFERENCE_ELECTRODE_IDS)).describe('Electrode and filling of the ORP sensor'),
    specificConductanceUsPerCm: maybe(decimal).describe('Of the water in which oxygen is checked'),
    stationPressureMmHg: maybe(decimal).describe('Of the air at the well in mmHg, never reduced to sea level'),
    stationPressureHpa: maybe(decimal).describe('The same in hPa (millibar); give one of the three'),
    stationPressureInHg: maybe(decimal).describe('The same in inHg; give one of the three'),
    altitudeFt: maybe(decimal).describe('Of the well above sea level; stands in where there is no barometer'),
    altitudeM: maybe(decimal).describe('The same in metres; give one of the two'),
    standardLot: maybe(text(64)).describe('Of the bottle'),
    standardExpires: maybe(date).describe('As on the bottle'),
    observed: observed.describe('When and by whom the standard was read'),
    remark: maybe(text(LONG_TEXT)),
  },
});
