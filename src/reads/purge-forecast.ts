import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import type { RecordState } from '../protocol/record.ts';
import type { AssessmentInput } from '../rules/assessment/assessment-input.ts';
import { FORECAST_SEED } from '../rules/forecast/forecast-seed.ts';
import { forecastPurge, type PurgeForecast } from '../rules/forecast/purge-forecast.ts';
import type { PurgeForecastGiven } from '../rules/forecast/purge-forecast-shape.ts';
import { seededUniform } from '../science/forecast/seeded-uniform.ts';
import { recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { visitRecords } from '../store/read/visit-records.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { Reader } from './reader.ts';

type Loose = RecordState<never>;

function textIn(state: RecordState | undefined, field: string): string[] {
  const value = state?.fields[field];
  return typeof value === 'string' ? [value] : [];
}

/** The records of these ids that count for what is asked, whether or not the reader follows their feed. */
async function byId(tx: ReadTx, ids: readonly string[]): Promise<ReadonlyMap<string, RecordState>> {
  const rows = await recordStates(tx, ids, null);
  return new Map(rows.map((row) => [row.id, row.state]));
}

const UNIT_FIELDS = ['meter', 'flowCell'];

/** Everything that a purge is assessed from. */
async function assessmentInput(tx: ReadTx, purge: RecordState): Promise<AssessmentInput> {
  const visitId = String(purge.fields.visit);
  const all = await visitRecords(tx, visitId);
  const visit = all.find(({ id }) => id === visitId);
  const units = all.flatMap((state) => UNIT_FIELDS.flatMap((field) => textIn(state, field)));
  const around = [...textIn(visit, 'event'), ...textIn(visit, 'well')];
  const states = await byId(tx, [...new Set([...around, ...units])]);
  const event = states.get(String(visit?.fields.event)) as Loose;
  const ofKind = (kind: string) => all.filter((state) => state.kind === kind) as Loose[];
  return {
    plan: (event as RecordState<{ plan: AssessmentInput['plan'] }>).fields.plan,
    purge: purge as Loose,
    visit: visit as Loose,
    well: (states.get(String(visit?.fields.well)) as Loose | undefined) ?? null,
    readings: ofKind('reading'),
    occurrences: ofKind('occurrence'),
    calls: ofKind('call'),
    setUps: ofKind('pump-set-up'),
    levels: ofKind('water-level'),
    units: new Map([...states].filter(([, { kind }]) => kind === 'unit').map(([id, state]) => [id, state as Loose])),
  };
}

/**
 * How a running purge will go on, from what is stored of it.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for a purge that is not there, is void, or that the reader does not follow
 */
export async function purgeForecast(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  { withinMin, marginFt }: PurgeForecastGiven,
): Promise<PurgeForecast> {
  const [row] = await recordStates(tx, [id], feeds);
  if (row?.kind !== 'purge')
    throw new Problem('record_missing', `no purge ${id} is among the records that you may read`);
  if (row.state.voided !== null) throw new Problem('record_missing', `purge ${id} is void`);
  const input = await assessmentInput(tx, row.state);
  return forecastPurge(input, { horizonMin: withinMin, marginFt, uniform: seededUniform(FORECAST_SEED) });
}

export function readPurgeForecast(
  pool: pg.Pool,
  reader: Reader,
  id: string,
  given: PurgeForecastGiven,
): Promise<PurgeForecast> {
  return inRead(pool, reader.firm, async (tx) => purgeForecast(tx, await feedsInSight(tx, reader), id, given));
}
