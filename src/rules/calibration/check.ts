import type { CheckParameter } from '../../catalog/calibration/check-limit-set.ts';
import type { Parameter } from '../../catalog/parameters.ts';
import type { ConductivityStandardId } from '../../catalog/standards/conductivity-standards.ts';
import type { PhBufferId } from '../../catalog/standards/ph-buffers.ts';
import type { ReferenceElectrodeId } from '../../catalog/standards/reference-electrodes.ts';
import type { ZobellTableId } from '../../catalog/standards/zobell-tables.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { StationGiven } from '../chemistry/station-air.ts';

/**
 * In what a sensor was put, as far as it was written down. What a label says goes before what a table says; the value at
 * the temperature is worked out from the names where nobody wrote it.
 */
export interface CheckStandard extends StationGiven {
  /** As on the label, at 25 °C; for temperature the reading of the reference thermometer. */
  readonly nominal?: string | undefined;
  /** From the table of the bottle, or as worked out by the person. */
  readonly valueAtTemperature?: string | undefined;
  /** Of the standard. */
  readonly temperatureC?: string | undefined;
  readonly buffer?: PhBufferId | undefined;
  readonly conductivityStandard?: ConductivityStandardId | undefined;
  /** Raw: the meter shows the conductivity at the temperature of the standard. Default: at 25 °C. */
  readonly conductanceShown?: 'at-25' | 'raw' | undefined;
  readonly zobell?: ZobellTableId | undefined;
  readonly referenceElectrode?: ReferenceElectrodeId | undefined;
  /** Of water in which an oxygen sensor is checked; without it the water is fresh. */
  readonly specificConductanceUsPerCm?: string | undefined;
}

/**
 * One standard read with one sensor: a pure form of what a record of a calibration check says. Calibrated: the meter was
 * set to the standard. Checked: the standard was measured as if it were a sample.
 */
export interface CalibrationCheck {
  readonly id: string;
  readonly meter: string;
  readonly parameter: CheckParameter;
  readonly act: 'calibrated' | 'checked';
  readonly part: 'start' | 'mid' | 'end';
  /** When it was done, with offset. */
  readonly at: string;
  /** In order with what other devices recorded, where their clocks are known; without it the order is that of `at`. */
  readonly ms?: number | undefined;
  /** What the meter showed; of a calibration the figure after adjusting, which may be missing. */
  readonly reading?: string | undefined;
  readonly turbidityUnit?: 'NTU' | 'FNU' | undefined;
  readonly standard: CheckStandard;
}

/** The parameter of a purge that a check vouches for. */
export function parameterOf(check: Pick<CalibrationCheck, 'parameter'>): Parameter {
  return check.parameter === 'zero-oxygen' ? 'dissolved-oxygen' : check.parameter;
}

/** Where a check or a reading stands among the others. */
export function orderMs({ at, ms }: Pick<CalibrationCheck, 'at' | 'ms'>): number {
  return ms ?? instantMs(at);
}
