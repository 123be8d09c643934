import { deconProtocol } from '../../../catalog/decon/decon-protocols.ts';
import type { EquipmentRecords } from '../equipment-records.ts';
import type { Deed, EquipmentVectorGiven, VectorDeed } from './equipment-vector.ts';
import { instant, type Lists, noRecords, recorded, seen, visitAt } from './vector-lists.ts';
import { beside, handsOver, meterCheck, meterReads, setsUp, signsOut } from './vector-meter-records.ts';

function atWell(lists: Lists, id: string, deed: Deed<'at-well'>): void {
  const { unit, well, from, until, suites, how = 'down-the-well', bladderMaterial, tubingMaterial } = deed;
  const visit = `visit ${id}`;
  const left = until ? { left: instant(until) } : {};
  const fields = { event: 'event', well, crew: 'crew', arrived: instant(from), ...left };
  lists.visits.push(recorded('visit', visit, fields, until ?? from, deed));
  const { intakeDepthFt, drivePressurePsi } = deed;
  const material = { bladderMaterial, tubingMaterial, intakeDepthFt, drivePressurePsi };
  if (how === 'down-the-well')
    lists.setUps.push(
      recorded('pump-set-up', `set-up ${id}`, { visit, pump: unit, ...material, observed: seen(from) }, from, deed),
    );
  else
    lists.uses.push(
      recorded('unit-use', `use ${id}`, { visit, unit, how, from: instant(from), observed: seen(from) }, from, deed),
    );
  if (suites)
    lists.samples.push(
      recorded(
        'sample',
        `sample ${id}`,
        { visit, number: `S-${id}`, suites, collected: instant(deed.sampled ?? from) },
        from,
      ),
    );
}

function decon(lists: Lists, id: string, deed: Deed<'decon'>): void {
  const { unit, from, until, protocol = 'pump-flush', fluid, wasteTo } = deed;
  const ended = until ? { ended: instant(until) } : {};
  const fields = { unit, protocol, began: instant(from), ...ended, wasteTo, observed: seen(from) };
  lists.decons.push(recorded('decon', `decon ${id}${deed.isIncomplete ? ' incomplete' : ''}`, fields, from, deed));
  const wet = deconProtocol(protocol)?.steps.find(({ makesWaste }) => makesWaste);
  if (fluid === undefined || !wet) return;
  const { id: of } = lists.decons.at(-1) ?? { id: '' };
  const step = { decon: of, step: wet.id, done: true, fluid, observed: seen(from) };
  lists.deconSteps.push(recorded('decon-step', `step ${id}`, step, from, deed));
}

function rinsate(lists: Lists, id: string, { unit, at, found }: Deed<'rinsate'>): void {
  const blank = `blank ${id}`;
  const fields = {
    event: 'event',
    type: 'equipment' as const,
    number: `EB-${id}`,
    unit,
    collected: instant(at),
    suites: ['VOC'],
  };
  lists.blanks.push(recorded('blank', blank, fields, at));
  if (found === undefined) return;
  const condition = found === null ? ('not-detected' as const) : ('detected' as const);
  const result = { blank, analyte: 'tetrachloroethene', unit: 'ug/L', reportingLimit: '0.5', value: found, condition };
  lists.results.push(recorded('laboratory-result', `result ${id}`, result, at));
}

function gas(lists: Lists, id: string, { at }: Deed<'gas'>): void {
  const purge = `purge ${id}`;
  lists.purges.push(recorded('purge', purge, { visit: visitAt(lists, at) }, at));
  const fields = { purge, type: 'drive-gas-in-discharge', observed: seen(at) };
  lists.occurrences.push(recorded('occurrence', `occurrence ${id}`, fields, at));
}

function take(lists: Lists, deed: VectorDeed, at: number): void {
  const id = String(at + 1);
  if (deed.does === 'at-well') atWell(lists, id, deed);
  else if (deed.does === 'decon') decon(lists, id, deed);
  else if (deed.does === 'rinsate') rinsate(lists, id, deed);
  else if (deed.does === 'gas') gas(lists, id, deed);
  else if (deed.does === 'set-up') setsUp(lists, id, deed);
  else if (deed.does === 'beside') beside(lists, id, deed);
  else if (deed.does === 'hands-over') handsOver(lists, id, deed);
  else if (deed.does === 'signs-out') signsOut(lists, id, deed);
  else if (deed.does === 'check') meterCheck(lists, id, deed);
  else if (deed.does === 'reads') meterReads(lists, id, deed);
  else if (deed.does === 'part') {
    const { does: _, at: time, ...fields } = deed;
    lists.partChanges.push(recorded('part-change', `change ${id}`, { ...fields, observed: seen(time) }, time));
  } else {
    const { does: _, at: time, ...fields } = deed;
    lists.services.push(recorded('unit-service', `service ${id}`, { ...fields, observed: seen(time) }, time));
  }
}

/** The records of a case. A decon whose id ends in "incomplete" is so. */
export function vectorRecords(given: EquipmentVectorGiven): EquipmentRecords {
  const lists = noRecords();
  lists.events.push(
    recorded('event', 'event', { plan: { equipment: given.plan, calibration: given.calibration } }, '00:00'),
  );
  const pump = { type: 'submersible-pump' as const, use: 'shared' as const, ownership: 'owned' as const };
  for (const [id, fields] of Object.entries(given.units))
    lists.units.push(recorded('unit', id, { ...pump, label: id, ...fields }, '00:00'));
  const named = given.deeds.flatMap((deed) => (deed.does === 'at-well' ? [deed.well] : []));
  for (const name of new Set([...Object.keys(given.wells ?? {}), ...named]))
    lists.wells.push(recorded('well', name, { name, ...given.wells?.[name] }, '00:00'));
  for (const [id, fields] of Object.entries(given.parts ?? {}))
    lists.parts.push(recorded('part', id, { type: 'tubing' as const, label: id, ...fields }, '00:00'));
  for (const [at, deed] of given.deeds.entries()) take(lists, deed, at);
  return lists;
}
