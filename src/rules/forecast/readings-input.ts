import type { EventPlan } from '../../protocol/event-plan.ts';
import type { AssessmentInput, ReadingRecord, SetUpRecord } from '../assessment/assessment-input.ts';

type Values = Omit<ReadingRecord['fields'], 'purge' | 'observed'>;

/** A reading as it is given with a question: no record, but the values of one and when it was taken. */
export type GivenReading = { readonly elapsedMin: string } & {
  readonly [Field in keyof Values]?: Values[Field] | null | undefined;
};

/** Only differences of times matter; the day is arbitrary. */
const START_MS = Date.UTC(2000, 0, 1);

const PLAIN = { rev: 1, voided: null, by: null, client: null, mutation: null, reason: null, clock: null };

function observedAt(elapsedMin: string) {
  const at = new Date(START_MS + Math.round(Number(elapsedMin) * 60_000)).toISOString();
  return { at, entered: at, captured: 'at-the-well', readBy: 'nobody', writtenBy: 'nobody' } as const;
}

function readingRecord({ elapsedMin, ...values }: GivenReading, index: number): ReadingRecord {
  const given = Object.fromEntries(Object.entries(values).filter(([, value]) => value != null));
  const fields = { purge: 'purge', ...given, observed: observedAt(elapsedMin) };
  return { kind: 'reading', id: `reading ${String(index).padStart(6, '0')}`, ...PLAIN, fields };
}

function setUpRecord(flowCellVolumeMl: string): SetUpRecord {
  const fields = { visit: 'visit', pump: 'pump', flowCellVolumeMl, observed: observedAt('0') };
  return { kind: 'pump-set-up', id: 'set-up', ...PLAIN, fields };
}

/** Readings that were never stored, as the engine takes them: so a question is judged by the code that judges a purge. */
export function inputOfReadings(
  plan: EventPlan,
  readings: readonly GivenReading[],
  flowCellVolumeMl: string | undefined,
): AssessmentInput {
  const { at } = observedAt('0');
  const visit = { event: 'event', well: 'well', crew: 'crew', method: 'low-flow', arrived: at } as const;
  return {
    plan,
    purge: { kind: 'purge', id: 'purge', ...PLAIN, fields: { visit: 'visit', began: at } },
    visit: { kind: 'visit', id: 'visit', ...PLAIN, fields: visit },
    well: null,
    readings: readings.map(readingRecord),
    occurrences: [],
    calls: [],
    setUps: flowCellVolumeMl === undefined ? [] : [setUpRecord(flowCellVolumeMl)],
    levels: [],
    units: new Map(),
  };
}
