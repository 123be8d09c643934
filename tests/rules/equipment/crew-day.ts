import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import type { WellLevel } from '../../../src/rules/well-order/well-level.ts';
import { Day, ENDED_IS_CLEAN } from './equipment-day.ts';

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
    day.decon(unit, '07:00', '07:30');
  }
  day.service(`T-${crew}`, 'length-checked', '01-10 09:00', { result: 'pass', dueNext: '2026-07-10' });
  day.service(`P-${crew}`, 'serviced', '01-10 09:00', { dueNext: '2027-01-10' });
  day.part(`bladder-${crew}1`, { type: 'bladder', lot: `L-${crew}1`, material: 'polyethylene' });
  day.change(`P-${crew}`, `bladder-${crew}1`, 'installed', '07:20');
  for (const [at, hour] of HOURS.entries()) stop(given, crew, at + 1, hour);
  day.blank(`EB-${crew}`, `P-${crew}`, '16:00');
  day.result({ blank: `EB-${crew}` }, null);
}

/** Three crews, four wells each, everything as it should be. */
export function cleanDay(): CrewDay {
  const given = { day: new Day(), levels: new Map<string, WellLevel>() };
  for (const crew of CREWS) crewOf(given, crew);
  given.day.unit('P-4', { type: 'bladder-pump' });
  return given;
}

const EVENT = { kind: 'event', id: 'event-1', rev: 1, voided: null, client: null, clock: null };
const PLAN = { rinsatePer: 'unit-and-day', partLotsRequired: ['bladder'] } as const;

export function findingsOf({ levels }: CrewDay, records: EquipmentRecords, isClosed?: boolean) {
  const facts = equipmentFacts(
    { ...records, events: [{ ...EVENT, fields: { plan: { equipment: PLAN } } }] },
    {
      judgeDecon: ENDED_IS_CLEAN,
      ...(isClosed === undefined ? {} : { isDayClosed: () => isClosed }),
      levelOf: ({ well }) => levels.get(well) ?? { well, results: [] },
    },
  );
  return equipmentFindings(facts);
}
