import type { RecordState } from '../../../src/protocol/record.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { type WellRecords, wellRecords } from '../../../src/rules/well-rounds/well-records.ts';

export const WELL = vectorId(6);
export const AT = '2026-10-13T08:00:00-05:00';

export function state(kind: string, id: string, fields: RecordState['fields'], voided = false): RecordState {
  const nobody = { by: null, client: null, mutation: null, reason: null, clock: null };
  return { kind, id, rev: 1, voided: voided ? { reason: 'wrong', by: null } : null, ...nobody, fields };
}

/** A visit of a year, and the summary that it left. */
export function summary(year: number, more: object = {}): RecordState {
  const fields = {
    well: WELL,
    event: vectorId(0x9000 + year),
    eventName: `Round of ${year}`,
    visit: vectorId(0x8000 + year),
    arrived: `${year}-05-04T09:30:00-05:00`,
    method: 'low-flow',
    outcome: 'sampled',
    wentDry: false,
    ...more,
  };
  return state('visit-summary', vectorId(0x7000 + year), fields);
}

export const POINTS = { first: vectorId(0x11), corrected: vectorId(0x12), raised: vectorId(0x13) };

export function point(id: string, year: number, change: string, more: object = {}, voided = false): RecordState {
  const fields = { well: WELL, description: 'notch', validFrom: `${year}-01-01T00:00:00Z`, change, ...more };
  return state('measuring-point', id, fields, voided);
}

export const DATUM = { datum: 'NAVD 88' };
/** Surveyed, surveyed again, and cut down by half a foot in 2022. */
export const CUT_DOWN = [
  point(POINTS.first, 2010, 'first', { elevationFt: '102.31', ...DATUM }),
  point(POINTS.corrected, 2015, 'error-corrected', { elevationFt: '102.41', ...DATUM }),
  point(POINTS.raised, 2022, 'casing-changed', { elevationFt: '101.91', ...DATUM }),
];

export function records(summaries: readonly RecordState[], points: readonly RecordState[] = []): WellRecords {
  return wellRecords(WELL, summaries, points);
}
