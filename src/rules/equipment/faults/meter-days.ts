import type { Parameter } from '../../../catalog/parameters.ts';
import { checkName } from '../../calibration/assess-check.ts';
import type { Round } from '../../calibration/rounds.ts';
import { fieldEvidence } from '../../flags/evidence.ts';
import { listText } from '../../flags/list-text.ts';
import type { Evidence } from '../../flags/raised-flag.ts';
import { byKey } from '../by-key.ts';
import { wellName } from '../equipment-index.ts';
import type { MeterUse } from '../meters/meter-use.ts';
import type { SensorUse } from '../meters/sensor-use.ts';
import { dayOf, momentText } from '../moment.ts';
import { unitName } from '../unit-kind.ts';
import type { EquipmentFacts } from './equipment-rule.ts';

/** Of visits that are asked about so many are listed as evidence; the sentence says how many they are. */
const MOST_VISITS = 20;

/** What is asked about one meter on one day: told once, whatever the number of its readings. */
export interface MeterDay {
  readonly unit: string;
  readonly name: string;
  readonly day: string;
  readonly sensors: readonly SensorUse[];
}

/** @param dayOfSensor the day under which it is told */
export function meterDays(
  { index, sensorUses }: EquipmentFacts,
  is: (sensor: SensorUse) => boolean,
  dayOfSensor: (sensor: SensorUse) => string = ({ use }) => dayOf(use.first),
): readonly MeterDay[] {
  return [...sensorUses].flatMap(([unit, sensors]) =>
    [...byKey(sensors.filter(is), dayOfSensor)].map(([day, its]) => ({
      unit,
      name: unitName(index.units.get(unit), unit),
      day,
      sensors: its,
    })),
  );
}

export function parametersText(sensors: readonly { readonly parameter: Parameter }[]): string {
  return listText([...new Set(sensors.map(({ parameter }) => checkName(parameter)))]);
}

export function visitsOf(sensors: readonly SensorUse[]): readonly MeterUse[] {
  return [...new Map(sensors.map(({ use }) => [use.visit.id, use])).values()];
}

export function wellsText({ index }: EquipmentFacts, sensors: readonly SensorUse[]): string {
  return listText([...new Set(visitsOf(sensors).map(({ visit }) => wellName(index, visit.well)))]);
}

/** The first reading of each visit. */
export function usesEvidence({ index }: EquipmentFacts, sensors: readonly SensorUse[]): readonly Evidence[] {
  return visitsOf(sensors)
    .slice(0, MOST_VISITS)
    .map(({ reading, visit, first }) => ({
      record: reading.id,
      shows: `${wellName(index, visit.well)} ${momentText(first)}`,
    }));
}

/** Rounds once each, with what was read in each standard. */
export function roundsEvidence(rounds: readonly (Round | undefined)[]): readonly Evidence[] {
  return [...new Set(rounds)].flatMap((round) =>
    (round?.checks ?? []).map(({ check }) => fieldEvidence({ id: check.id, fields: check }, 'reading')),
  );
}
