import { deconProtocol } from '../../../src/catalog/decon/decon-protocols.ts';
import { gearOfUnit } from '../../../src/rules/decon/gear-of-unit.ts';
import { stepsForGear } from '../../../src/rules/decon/steps-for-unit.ts';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import type { DeconRecord, EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import type { WellLevel } from '../../../src/rules/well-order/well-level.ts';
import { Day, voided } from './equipment-day.ts';

/** Of each crew: its pump, tape and meter, and its wells from clean to dirty. Ten shared units with the spare pump P-4. */
export const CREWS = [1, 2, 3] as const;
const HOURS = ['08', '10', '12', '14'] as const;

export interface CrewDay {
  readonly day: Day;
  readonly levels: Map<string, WellLevel>;
}

const wellOf = (crew: number, turn: number) => `MW-${crew}${turn}`;

function stop({ day, levels }: CrewDay, crew: number, turn: number, hour: string): void {
  const [pump, tape, meter] = [`P-${crew}`, `T-${crew}`, `M-${crew}`];
  const [well, visit] = [wellOf(crew, turn), `v${crew}${turn}`];
  const next = String(Number(hour) + 1).padStart(2, '0');
  day.well(well);
  const value = String(10 ** (turn - 1));
  const last = { analyte: 'tetrachloroethene', casNumber: '127-18-4', unit: 'ug/L', reportingLimit: '0.5' };
  levels.set(well, { well, results: [{ ...last, value, condition: 'detected' }] });
  day.pumped(visit, well, pump, `${hour}:05`, `${hour}:50`, `crew-${crew}`);
  for (const minute of ['02', '20', '40']) day.level(visit, tape, `${hour}:${minute}`);
  for (const minute of ['15', '20', '25']) day.reading(visit, meter, `${hour}:${minute}`);
  day.sample(`S-${crew}${turn}`, visit, `${hour}:45`);
  day.decon(tape, `${hour}:51`, `${hour}:53`, { protocol: 'tape-wipe-down' });
  day.decon(meter, `${hour}:53`, `${hour}:54`, { protocol: 'meter-rinse' });
  const decon = day.decon(pump, `${hour}:55`, `${next}:25`, { protocol: 'bladder-pump-new-parts' });
  const part = `bladder-${crew}${turn + 1}`;
  day.part(part, { type: 'bladder', lot: `L-${part}`, material: 'polyethylene' });
  day.step(decon.id, 'new-bladder', `${next}:15`, { part });
  day.change(pump, `bladder-${crew}${turn}`, 'discarded', `${next}:10`);
}

function crewOf(given: CrewDay, crew: number): void {
  const { day } = given;
  day.unit(`P-${crew}`, { type: 'bladder-pump' });
  day.unit(`T-${crew}`, { type: 'water-level-tape' });
  day.unit(`M-${crew}`, { type: 'multi-parameter-meter' });
  for (const unit of [`P-${crew}`, `T-${crew}`, `M-${crew}`]) {
    day.signOut(unit, `crew-${crew}`, '06:30', '17:30');
    day.decon(unit, '07:00', '07:30', { protocol: MORNING[unit.slice(0, 1)] ?? 'pump-flush' });
  }
  day.service(`T-${crew}`, 'length-checked', '01-10 09:00', { result: 'pass', dueNext: '2026-07-10' });
  day.service(`P-${crew}`, 'serviced', '01-10 09:00', { dueNext: '2027-01-10' });
  day.part(`bladder-${crew}1`, { type: 'bladder', lot: `L-${crew}1`, material: 'polyethylene' });
  day.change(`P-${crew}`, `bladder-${crew}1`, 'installed', '07:20');
  for (const [at, hour] of HOURS.entries()) stop(given, crew, at + 1, hour);
  day.blank(`EB-${crew}`, `P-${crew}`, '16:00');
  day.result({ blank: `EB-${crew}` }, null);
}

/** Every step of every decon that has ended, by its protocol; what is recorded of a step already stays as it is. */
function withSteps(day: Day, decons: readonly DeconRecord[] = day.lists.decons): void {
  const types = new Map(day.lists.units.map(({ id, fields }) => [id, fields.type]));
  for (const { id, fields } of decons) {
    const gear = gearOfUnit(types.get(fields.unit) ?? 'other') ?? 'hand-gear';
    const protocol = deconProtocol(fields.protocol);
    const steps = (protocol ? stepsForGear(protocol, gear) : []).filter(({ when }) => when === undefined);
    const its = day.lists.deconSteps.filter((one) => one.fields.decon === id && one.voided === null);
    const recorded = new Set(its.map((one) => one.fields.step));
    const newPart = its[0]?.fields.observed.at;
    Object.assign(fields, { wasteTo: 'drum 1' });
    let isBefore = newPart !== undefined;
    for (const step of steps) {
      if (recorded.has(step.id)) {
        isBefore = false;
        continue;
      }
      const [fluid] = step.fluids;
      const more = { ...(fluid ? { fluid } : {}), ...(step.change ? { lot: `L-${step.change}` } : {}) };
      const seen = newPart === undefined || isBefore ? fields.began : newPart;
      day.step(id, step.id, `${seen.slice(5, 10)} ${seen.slice(11, 16)}`, more);
    }
  }
}

/** A decon as it would have been by this protocol, with every step of it. */
export function cleanedBy(day: Day, decon: DeconRecord, protocol: string): void {
  for (const step of day.lists.deconSteps) if (step.fields.decon === decon.id) voided(step);
  Object.assign(decon.fields, { protocol });
  withSteps(day, [decon]);
}

/** By which protocol each kind of unit is cleaned in the morning. */
const MORNING: Readonly<Record<string, string>> = { P: 'pump-flush', T: 'tape-wipe-down', M: 'meter-rinse' };

/** Three crews, four wells each, everything as it should be. */
export function cleanDay(): CrewDay {
  const given = { day: new Day(), levels: new Map<string, WellLevel>() };
  for (const crew of CREWS) crewOf(given, crew);
  given.day.unit('P-4', { type: 'bladder-pump' });
  withSteps(given.day);
  return given;
}

const EVENT = { kind: 'event', id: 'event-1', rev: 1, voided: null, client: null, clock: null };
const PLAN = { rinsatePer: 'unit-and-day', partLotsRequired: ['bladder'], partsRenewed: ['bladder'] } as const;

/** Each decon judged by its protocol, step by step. */
export function findingsOf({ levels }: CrewDay, records: EquipmentRecords, isClosed?: boolean) {
  const facts = equipmentFacts(
    { ...records, events: [{ ...EVENT, fields: { plan: { equipment: PLAN } } }] },
    {
      ...(isClosed === undefined ? {} : { isDayClosed: () => isClosed }),
      levelOf: ({ well }) => levels.get(well) ?? { well, results: [] },
    },
  );
  return equipmentFindings(facts);
}
