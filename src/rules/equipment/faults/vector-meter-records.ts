import type { CheckRecord, MeterReadingRecord } from '../equipment-records.ts';
import type { Deed } from './equipment-vector.ts';
import { instant, type Lists, recorded, seen, visitAt } from './vector-lists.ts';

/** The pump of the visit under way, set up anew. */
export function setsUp(lists: Lists, id: string, deed: Deed<'set-up'>): void {
  const { unit, at, intakeDepthFt, drivePressurePsi } = deed;
  const fields = { visit: visitAt(lists, at), pump: unit, intakeDepthFt, drivePressurePsi, observed: seen(at) };
  lists.setUps.push(recorded('pump-set-up', `set-up ${id}`, fields, at));
}

/** What stands beside the well of the visit under way. */
export function beside(lists: Lists, id: string, { unit, at }: Deed<'beside'>): void {
  const how = 'beside-the-well' as const;
  const fields = { visit: visitAt(lists, at), unit, how, from: instant(at), observed: seen(at) };
  lists.uses.push(recorded('unit-use', `use ${id}`, fields, at));
}

export function handsOver(lists: Lists, id: string, { at, crew }: Deed<'hands-over'>): void {
  const purge = `purge ${id}`;
  lists.purges.push(recorded('purge', purge, { visit: visitAt(lists, at) }, at));
  const fields = { purge, type: 'handed-over', toCrew: crew, observed: seen(at) };
  lists.occurrences.push(recorded('occurrence', `occurrence ${id}`, fields, at));
}

export function signsOut(lists: Lists, id: string, deed: Deed<'signs-out'>): void {
  const { unit, crew, from, until } = deed;
  const ended = until ? { until: instant(until) } : {};
  const fields = { unit, crew, from: instant(from), ...ended, observed: seen(from) };
  lists.signOuts.push(recorded('sign-out', `sign-out ${id}`, fields, until ?? from, deed));
}

export function meterCheck(lists: Lists, id: string, deed: Deed<'check'>): void {
  const { unit, at, parameter = 'ph', act = 'checked', reading, standard, expires, lot } = deed;
  const fields: CheckRecord['fields'] = {
    unit,
    parameter,
    act,
    part: 'mid',
    reading,
    nominal: standard,
    valueAtTemperature: standard,
    standardExpires: expires,
    standardLot: lot,
    observed: seen(at),
  };
  lists.checks.push(recorded('calibration-check', `check ${id}`, fields, at, deed));
}

/** A visit in which a meter was read once. */
export function meterReads(lists: Lists, id: string, deed: Deed<'reads'>): void {
  const { unit, well, at, until, ph, conductance, turbidityNtu } = deed;
  const [visit, purge] = [`visit ${id}`, `purge ${id}`];
  const left = until ? { left: instant(until) } : {};
  const stay = { event: 'event', well, crew: 'crew', arrived: instant(at), ...left };
  lists.visits.push(recorded('visit', visit, stay, until ?? at, deed));
  lists.purges.push(recorded('purge', purge, { visit }, at, deed));
  const fields: MeterReadingRecord['fields'] = {
    purge,
    meter: unit,
    ph,
    specificConductanceUsPerCm: conductance,
    turbidityNtu,
    observed: seen(at),
  };
  lists.readings.push(recorded('reading', `reading ${id}`, fields, at, deed));
}
