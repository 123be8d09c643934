import type { EventPlan, StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { AssessmentFields } from '../../../src/protocol/kinds/assessment.ts';
import type { StampedClock } from '../../../src/protocol/record.ts';
import { assessPurge } from '../../../src/rules/assessment/assess-purge.ts';
import type {
  AssessmentInput,
  CallRecord,
  LevelRecord,
  OccurrenceRecord,
  ReadingRecord,
  SetUpRecord,
  UnitRecord,
  WellRecord,
} from '../../../src/rules/assessment/assessment-input.ts';

export const REGION_1 = 'epa-region-1-low-stress-rev-4';

/** A readable UUID: the same words give the same id. */
export function idOf(text: string): string {
  let hash = 0x811c9dc5;
  for (const char of text) hash = Math.imul(hash ^ char.charCodeAt(0), 0x01000193) >>> 0;
  const hex = hash.toString(16).padStart(8, '0');
  const tail = [...text].map((char) => (char.charCodeAt(0) & 0xff).toString(16).padStart(2, '0')).join('');
  return `${hex}-0000-7000-8000-${tail.padEnd(12, '0').slice(-12)}`;
}

export const PURGE = idOf('purge');
export const VISIT = idOf('visit');
const EVENT = idOf('event');
const WELL = idOf('well');
const CREW = idOf('crew');
const MEMBER = idOf('member');

/** 10:05 or 10:05:30 on the day of the fixtures. */
export function at(time: string): string {
  return `2026-05-04T${time.length === 5 ? `${time}:00` : time}-05:00`;
}

/** 10:00 plus so many seconds. */
export function later(seconds: number): string {
  const time = new Date(Date.UTC(2026, 4, 4, 10, 0, 0) + seconds * 1_000).toISOString();
  return `${time.slice(0, 19)}-05:00`;
}

interface Made {
  readonly time: string;
  readonly id?: string;
  readonly entered?: string;
  readonly captured?: 'at-the-well' | 'same-day' | 'from-paper';
  readonly clock?: StampedClock;
  readonly client?: string;
  readonly voided?: boolean;
  readonly rev?: number;
}

function record(kind: string, made: Made, fields: Record<string, unknown>) {
  const time = made.time.length > 8 ? made.time : at(made.time);
  const observed = {
    at: time,
    entered: made.entered ?? time,
    captured: made.captured ?? 'at-the-well',
    readBy: MEMBER,
    writtenBy: MEMBER,
  };
  return {
    kind,
    id: made.id ?? idOf(`${kind} ${time}`),
    rev: made.rev ?? 1,
    voided: made.voided ? { reason: 'wrong well', by: MEMBER } : null,
    by: MEMBER,
    client: made.client ?? idOf('phone'),
    mutation: 1,
    reason: null,
    clock: made.clock ?? null,
    fields: { ...fields, observed },
  };
}

export function reading(made: Made, fields: Partial<ReadingRecord['fields']>): ReadingRecord {
  return record('reading', made, { purge: PURGE, ...fields }) as ReadingRecord;
}

export function occurrence(
  made: Made,
  type: OccurrenceRecord['fields']['type'],
  fields: Partial<OccurrenceRecord['fields']> = {},
): OccurrenceRecord {
  return record('occurrence', made, { purge: PURGE, type, ...fields }) as OccurrenceRecord;
}

export function call(made: Made, decision: CallRecord['fields']['decision']): CallRecord {
  return record('call', made, { purge: PURGE, decision }) as CallRecord;
}

export function level(
  made: Made,
  purpose: LevelRecord['fields']['purpose'],
  depthToWaterFt: string,
  fields: Partial<LevelRecord['fields']> = {},
): LevelRecord {
  return record('water-level', made, {
    visit: VISIT,
    purpose,
    state: 'measured',
    depthToWaterFt,
    ...fields,
  }) as LevelRecord;
}

export function setUp(made: Made, fields: Partial<SetUpRecord['fields']>): SetUpRecord {
  return record('pump-set-up', made, { visit: VISIT, pump: idOf('pump'), ...fields }) as SetUpRecord;
}

export function unit(id: string, fields: Partial<UnitRecord['fields']>): UnitRecord {
  const all = { type: 'multi-parameter-meter', label: 'M', use: 'shared', ownership: 'owned', ...fields };
  return { ...plain('unit', id), fields: all } as UnitRecord;
}

function plain(kind: string, id: string) {
  return { kind, id, rev: 1, voided: null, by: MEMBER, client: null, mutation: null, reason: null, clock: null };
}

export function well(fields: Partial<WellRecord['fields']> = {}): WellRecord {
  const all = { site: idOf('site'), name: 'W-1', standing: 'in-service', depthsFrom: 'measuring-point', ...fields };
  return { ...plain('well', WELL), fields: all } as WellRecord;
}

export interface Purge {
  readonly criteria?: string;
  readonly plan?: StabilizationPlan;
  readonly readings: readonly ReadingRecord[];
  readonly occurrences?: readonly OccurrenceRecord[];
  readonly calls?: readonly CallRecord[];
  readonly setUps?: readonly SetUpRecord[];
  readonly levels?: readonly LevelRecord[];
  readonly units?: readonly UnitRecord[];
  readonly well?: WellRecord | null;
}

export function inputOf(purge: Purge): AssessmentInput {
  const plan: EventPlan = { criteria: purge.criteria ?? REGION_1, stabilization: purge.plan };
  return {
    plan,
    purge: { ...plain('purge', PURGE), fields: { visit: VISIT, began: at('09:58') } } as AssessmentInput['purge'],
    visit: {
      ...plain('visit', VISIT),
      fields: { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: at('09:30') },
    } as AssessmentInput['visit'],
    well: purge.well === undefined ? well() : purge.well,
    readings: purge.readings,
    occurrences: purge.occurrences ?? [],
    calls: purge.calls ?? [],
    setUps: purge.setUps ?? [],
    levels: purge.levels ?? [],
    units: new Map((purge.units ?? []).map((one) => [one.id, one])),
  };
}

export function assess(purge: Purge): AssessmentFields {
  return assessPurge(inputOf(purge));
}

/** Values that meet every criterion of every set when they stay as they are. */
export const STEADY: Partial<ReadingRecord['fields']> = {
  temperatureC: '12.40',
  ph: '7.10',
  specificConductanceUsPerCm: '512',
  dissolvedOxygenMgPerL: '2.41',
  orpMv: '-84',
  turbidityNtu: '8.2',
};

/** One reading every five minutes from 10:00 on, steady but for what is given. */
export function every5Min(rows: readonly Partial<ReadingRecord['fields']>[]): ReadingRecord[] {
  return rows.map((row, index) => reading({ time: later(index * 300) }, { ...STEADY, ...row }));
}

export function statusOf(assessment: AssessmentFields, parameter: string): string | undefined {
  return assessment.parameters.find((one) => one.parameter === parameter)?.status;
}
