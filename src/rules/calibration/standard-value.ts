import { atTemperature } from '../../catalog/standards/at-temperature.ts';
import { conductivityLabel, conductivityStandardAt } from '../../catalog/standards/conductivity-standards.ts';
import { expectedOrp } from '../../catalog/standards/expected-orp.ts';
import { PH_BUFFERS } from '../../catalog/standards/ph-buffers.ts';
import { REFERENCE_ELECTRODES } from '../../catalog/standards/reference-electrodes.ts';
import { oxygenSaturation } from '../../science/oxygen/oxygen-saturation.ts';
import { salinityOfConductance } from '../../science/oxygen/salinity-of-conductance.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { stationAir } from '../chemistry/station-air.ts';
import type { CalibrationCheck, CheckStandard } from './check.ts';

/** A value of a standard, and how it came about, as part of a sentence. */
export interface StandardValue {
  readonly text: string;
  readonly how: string;
  readonly source: string;
}

/** Both values of a standard; where one is not known, why. */
export interface StandardValues {
  readonly nominal: StandardValue | Refusal;
  readonly atTemperature: StandardValue | Refusal;
}

const AS_WRITTEN = 'as written with the check';

function written(text: string, how: string): StandardValue {
  return { text, how, source: AS_WRITTEN };
}

function needs(what: string): Refusal {
  return refuse(`To know the standard give ${what}.`);
}

function bufferAtTemperature({ buffer, temperatureC }: CheckStandard): StandardValue | Refusal {
  if (buffer === undefined || temperatureC === undefined)
    return needs('the buffer by its recipe and its temperature, or the value from the table on the bottle');
  const table = PH_BUFFERS[buffer];
  const value = atTemperature(table, temperatureC);
  if (isRefusal(value)) return value;
  return { text: value.text, how: `${table.name} at ${temperatureC} °C, ${value.how}`, source: table.source };
}

function conductivityAtTemperature({ conductivityStandard, temperatureC }: CheckStandard): StandardValue | Refusal {
  if (conductivityStandard === undefined || temperatureC === undefined)
    return needs('the conductivity standard and its temperature');
  const value = conductivityStandardAt(conductivityStandard, temperatureC);
  if (isRefusal(value)) return value;
  return { text: value.text, how: `${value.name} at ${temperatureC} °C: ${value.how}`, source: value.source };
}

function conductivityNominal({ conductivityStandard }: CheckStandard): StandardValue | Refusal {
  if (conductivityStandard === undefined) return needs('what the label says, at 25 °C');
  const { at25UsPerCm, name, source } = conductivityLabel(conductivityStandard);
  return { text: at25UsPerCm, how: `${name} at 25 °C`, source };
}

function saturatedWater(standard: CheckStandard): StandardValue | Refusal {
  const air = stationAir(standard);
  if (isRefusal(air)) return air;
  if (air === null || standard.temperatureC === undefined)
    return needs('the temperature of the saturated water, and the pressure at the station or the altitude');
  const salinity = salinityOfConductance(Number(standard.specificConductanceUsPerCm ?? '0'));
  if (isRefusal(salinity)) return salinity;
  const saturation = oxygenSaturation({
    temperatureC: Number(standard.temperatureC),
    pressureMmHg: air.mmHg,
    salinity,
    basis: 'benson-and-krause',
  });
  if (isRefusal(saturation)) return saturation;
  return {
    text: placesText(saturation.mgPerL, 2),
    how: `saturation at ${standard.temperatureC} °C (${air.how})`,
    source: 'Benson and Krause 1980 and 1984; US Geological Survey, technical memorandum 2011.03 (from memory)',
  };
}

function redoxSolution({ zobell, referenceElectrode: id, temperatureC }: CheckStandard): StandardValue | Refusal {
  if (zobell === undefined || id === undefined || temperatureC === undefined)
    return needs(
      'the table of the ORP solution, the reference electrode with its filling, and the temperature, or the value from the bottle',
    );
  const electrode = REFERENCE_ELECTRODES[id];
  const expected = expectedOrp(zobell, electrode, temperatureC);
  if (isRefusal(expected)) return expected;
  const { orpMv, ehMv, referenceMv, name, source } = expected;
  return {
    text: orpMv,
    how: `${name}, ${ehMv} mV, less ${electrode.name}, ${referenceMv} mV, at ${temperatureC} °C`,
    source,
  };
}

const NO_TABLE = 'the value of the standard at its temperature: there is no table for it here';

function tableValue({ parameter, standard }: CalibrationCheck): StandardValue | Refusal {
  if (parameter === 'ph') return bufferAtTemperature(standard);
  if (parameter === 'specific-conductance') return conductivityAtTemperature(standard);
  if (parameter === 'dissolved-oxygen') return saturatedWater(standard);
  return parameter === 'orp' ? redoxSolution(standard) : needs(NO_TABLE);
}

function nominalValue({ parameter, standard }: CalibrationCheck): StandardValue | Refusal {
  if (standard.nominal !== undefined) return written(standard.nominal, 'value of the label');
  if (parameter === 'zero-oxygen') return written('0', 'water without oxygen');
  if (parameter === 'specific-conductance') return conductivityNominal(standard);
  if (parameter !== 'ph' || standard.buffer === undefined) return needs('what its label says');
  const { label, name, source } = PH_BUFFERS[standard.buffer];
  return { text: label, how: `${name}, label`, source };
}

/** The value of a standard on its label and at its temperature, from what was written and from the tables. */
export function standardValues(check: CalibrationCheck): StandardValues {
  const { valueAtTemperature } = check.standard;
  return {
    nominal: nominalValue(check),
    atTemperature:
      valueAtTemperature === undefined ? tableValue(check) : written(valueAtTemperature, 'value at the temperature'),
  };
}
