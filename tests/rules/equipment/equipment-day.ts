import type { JudgeDecon } from '../../../src/rules/equipment/decon-span.ts';
import type {
  BlankRecord,
  CheckRecord,
  DeconRecord,
  DeconStepRecord,
  MeterReadingRecord,
  OccurrenceRecord,
  PartChangeRecord,
  PartRecord,
  PurgeRecord,
  ResultRecord,
  SampleRecord,
  ServiceRecord,
  SetUpRecord,
  SignOutRecord,
  TapeRecord,
  UnitRecord,
  UnitUseRecord,
  VisitRecord,
  WellRecord,
} from '../../../src/rules/equipment/equipment-records.ts';
import { type Lists, noRecords } from '../../../src/rules/equipment/faults/vector-lists.ts';

export const DAY = '2026-05-04';

/** "09:00" of the day, or "05-05 09:00" of another. */
export function at(time: string): string {
  const [clock, day] = [time.slice(-5), time.length > 5 ? `2026-${time.slice(0, 5)}` : DAY];
  return `${day}T${clock}:00-05:00`;
}

interface Stamp {
  readonly client?: string;
  readonly differenceMs?: number;
  readonly uncertaintyMs?: number;
  readonly rev?: number;
  readonly captured?: 'at-the-well' | 'same-day' | 'from-paper';
}

/** Records as they come from phones, in few words. */
export class Day {
  readonly lists: Lists = noRecords();
  #count = 0;

  #record<Fields>(kind: string, fields: Fields, wall: string, id?: string, stamp: Stamp = {}) {
    this.#count += 1;
    const { client = 'phone-1', differenceMs, uncertaintyMs = 0, rev = 1 } = stamp;
    const clock =
      differenceMs === undefined && stamp.uncertaintyMs === undefined
        ? null
        : { wall, monotonicMs: 0, boot: 'b', sequence: this.#count, differenceMs: differenceMs ?? 0, uncertaintyMs };
    return {
      kind,
      id: id ?? `${kind}-${String(this.#count).padStart(5, '0')}`,
      rev,
      voided: null as { reason: string; by: string | null } | null,
      client,
      clock,
      fields,
    };
  }

  #seen(time: string, stamp: Stamp = {}) {
    return { at: at(time), captured: stamp.captured ?? ('at-the-well' as const) };
  }

  unit(id: string, fields: Partial<UnitRecord['fields']> = {}): UnitRecord {
    const all = { type: 'submersible-pump' as const, label: id, use: 'shared' as const, ownership: 'owned' as const };
    const record: UnitRecord = this.#record('unit', { ...all, ...fields }, at('00:00'), id);
    this.lists.units.push(record);
    return record;
  }

  well(id: string, fields: Partial<WellRecord['fields']> = {}): WellRecord {
    const record: WellRecord = this.#record('well', { name: id, ...fields }, at('00:00'), id);
    this.lists.wells.push(record);
    return record;
  }

  visit(id: string, well: string, arrived: string, left?: string, fields: Partial<VisitRecord['fields']> = {}) {
    const all = { event: 'event-1', well, crew: 'crew-1', arrived: at(arrived), ...(left ? { left: at(left) } : {}) };
    const record: VisitRecord = this.#record('visit', { ...all, ...fields }, at(arrived), id);
    this.lists.visits.push(record);
    return record;
  }

  setUp(visit: string, pump: string, time: string, fields: Partial<SetUpRecord['fields']> = {}, stamp?: Stamp) {
    const all = { visit, pump, observed: this.#seen(time, stamp) };
    const record: SetUpRecord = this.#record('pump-set-up', { ...all, ...fields }, at(time), undefined, stamp);
    this.lists.setUps.push(record);
    return record;
  }

  reading(visit: string, meter: string, time: string, fields: Partial<MeterReadingRecord['fields']> = {}) {
    const purge: PurgeRecord = this.#record('purge', { visit }, at(time));
    const record: MeterReadingRecord = this.#record(
      'reading',
      { purge: purge.id, meter, observed: this.#seen(time), ...fields },
      at(time),
    );
    this.lists.purges.push(purge);
    this.lists.readings.push(record);
    return record;
  }

  /** A pH sensor in buffer 7.00. */
  check(unit: string, time: string, reading: string, fields: Partial<CheckRecord['fields']> = {}) {
    const all = { unit, parameter: 'ph' as const, act: 'checked' as const, part: 'mid' as const, reading };
    const standard = { nominal: '7.00', valueAtTemperature: '7.00', observed: this.#seen(time) };
    const record: CheckRecord = this.#record('calibration-check', { ...all, ...standard, ...fields }, at(time));
    this.lists.checks.push(record);
    return record;
  }

  occurrence(visit: string, type: string, time: string) {
    const purge: PurgeRecord = this.#record('purge', { visit }, at(time));
    const fields = { purge: purge.id, type, observed: this.#seen(time) };
    const record: OccurrenceRecord = this.#record('occurrence', fields, at(time));
    this.lists.purges.push(purge);
    this.lists.occurrences.push(record);
    return record;
  }

  level(visit: string, tape: string, time: string) {
    const record: TapeRecord = this.#record('water-level', { visit, tape, observed: this.#seen(time) }, at(time));
    this.lists.tapeRecords.push(record);
    return record;
  }

  use(
    visit: string,
    unit: string,
    from: string,
    until?: string,
    how: UnitUseRecord['fields']['how'] = 'down-the-well',
  ) {
    const fields = {
      visit,
      unit,
      how,
      from: at(from),
      ...(until ? { until: at(until) } : {}),
      observed: this.#seen(from),
    };
    const record: UnitUseRecord = this.#record('unit-use', fields, at(from));
    this.lists.uses.push(record);
    return record;
  }

  sample(id: string, visit: string, collected: string, suites: readonly string[] = ['VOC']) {
    const fields = { visit, number: id, suites, collected: at(collected) };
    const record: SampleRecord = this.#record('sample', fields, at(collected), id);
    this.lists.samples.push(record);
    return record;
  }

  decon(unit: string, began: string, ended?: string, fields: Partial<DeconRecord['fields']> = {}, stamp?: Stamp) {
    const all = { unit, protocol: 'pump-flush', began: at(began), observed: this.#seen(began, stamp) };
    const record: DeconRecord = this.#record(
      'decon',
      { ...all, ...(ended ? { ended: at(ended) } : {}), ...fields },
      at(began),
      undefined,
      stamp,
    );
    this.lists.decons.push(record);
    return record;
  }

  step(decon: string, step: string, time: string, fields: Partial<DeconStepRecord['fields']> = {}, stamp?: Stamp) {
    const all = { decon, step, done: true, observed: this.#seen(time, stamp) };
    const record: DeconStepRecord = this.#record('decon-step', { ...all, ...fields }, at(time), undefined, stamp);
    this.lists.deconSteps.push(record);
    return record;
  }

  service(
    unit: string,
    type: ServiceRecord['fields']['type'],
    time: string,
    fields: Partial<ServiceRecord['fields']> = {},
  ) {
    const all = { unit, type, observed: this.#seen(time) };
    const record: ServiceRecord = this.#record('unit-service', { ...all, ...fields }, at(time));
    this.lists.services.push(record);
    return record;
  }

  part(id: string, fields: Partial<PartRecord['fields']> = {}) {
    const record: PartRecord = this.#record('part', { type: 'tubing' as const, label: id, ...fields }, at('00:00'), id);
    this.lists.parts.push(record);
    return record;
  }

  change(unit: string, part: string, action: PartChangeRecord['fields']['action'], time: string, well?: string) {
    const fields = { unit, part, action, ...(well ? { well } : {}), observed: this.#seen(time) };
    const record: PartChangeRecord = this.#record('part-change', fields, at(time));
    this.lists.partChanges.push(record);
    return record;
  }

  blank(id: string, unit: string, collected: string, fields: Partial<BlankRecord['fields']> = {}) {
    const all = { type: 'equipment' as const, number: id, unit, collected: at(collected), suites: ['VOC'] };
    const record: BlankRecord = this.#record('blank', { ...all, ...fields }, at(collected), id);
    this.lists.blanks.push(record);
    return record;
  }

  result(of: { sample?: string; blank?: string }, value: string | null, fields: Partial<ResultRecord['fields']> = {}) {
    const figure = value === null ? { condition: 'not-detected' as const } : { condition: 'detected' as const, value };
    const all = { ...of, analyte: 'tetrachloroethene', casNumber: '127-18-4', unit: 'ug/L', reportingLimit: '0.5' };
    const record: ResultRecord = this.#record('laboratory-result', { ...all, ...figure, ...fields }, at('05-25 09:00'));
    this.lists.results.push(record);
    return record;
  }

  signOut(unit: string, crew: string, from: string, until?: string) {
    const fields = { unit, crew, from: at(from), ...(until ? { until: at(until) } : {}), observed: this.#seen(from) };
    const record: SignOutRecord = this.#record('sign-out', fields, at(from));
    this.lists.signOuts.push(record);
    return record;
  }

  /** A visit with a pump, from when it is set up until the crew leaves, and a sample ten minutes before. */
  pumped(id: string, well: string, pump: string, from: string, until: string, crew = 'crew-1') {
    this.visit(id, well, from, until, { crew });
    return this.setUp(id, pump, from);
  }
}

/** Clean once it has ended, unless it says why not. */
export const ENDED_IS_CLEAN: JudgeDecon = ({ decon }) =>
  decon.fields.ended && decon.fields.labelText !== 'incomplete'
    ? { isClean: true, sentence: 'Complete.' }
    : { isClean: false, sentence: 'The last rinse is missing.' };

export function voided<Item extends { voided: unknown }>(record: Item): Item {
  Object.assign(record, { voided: { reason: 'test', by: null } });
  return record;
}
