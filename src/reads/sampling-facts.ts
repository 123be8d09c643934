import type { FieldsOf } from '../protocol/kind.ts';
import type { pumpSetUp } from '../protocol/kinds/pump-set-up.ts';
import type { signOut } from '../protocol/kinds/sign-out.ts';
import type { unit } from '../protocol/kinds/unit.ts';
import type { visitSummary } from '../protocol/kinds/visit-summary.ts';
import type { RecordState } from '../protocol/record.ts';
import { dayOf } from '../rules/custody/clocks.ts';
import type { UnitRecord } from '../rules/equipment/equipment-records.ts';
import { isDownholePump } from '../rules/equipment/unit-kind.ts';
import { readable } from '../rules/readable.ts';
import { EVENT_SAMPLES_KINDS, eventSamples } from '../rules/samples/event-samples.ts';
import type { PlanningFacts, PumpDay, PumpOfCrew } from '../rules/sampling-plan/planning-facts.ts';
import type { LastResult } from '../rules/well-order/well-level.ts';
import type { VisitSummary } from '../rules/well-rounds/well-records.ts';
import { instantMs } from '../science/instant-ms.ts';
import { lastResults } from '../store/read/crew-day.ts';
import { feedStates } from '../store/read/feed-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { dayAtSite } from './day-at-site.ts';
import { groupBy } from './group-by.ts';
import { inSight } from './in-sight.ts';

const KINDS = [...EVENT_SAMPLES_KINDS, 'visit-summary', 'unit', 'sign-out', 'pump-set-up'];

/** What was stored has the shape of its kind, once it is read as one. */
function ofKind<Kind extends { fields: import('zod').ZodType }>(
  states: readonly RecordState[],
  kind: string,
): readonly RecordState<FieldsOf<Kind>>[] {
  const its = states.filter((state) => state.kind === kind && state.voided === null);
  return its.map((state) => readable(state) as unknown as RecordState<FieldsOf<Kind>>);
}

function texts(states: readonly RecordState[], kinds: readonly string[], fields: readonly string[]): Set<string> {
  const its = states.filter(({ kind }) => kinds.includes(kind));
  return new Set(
    its.flatMap((state) => fields.map((field) => state.fields[field]).filter((one) => typeof one === 'string')),
  );
}

function summariesOf(states: readonly RecordState[]): ReadonlyMap<string, readonly VisitSummary[]> {
  const newest = ofKind<typeof visitSummary>(states, 'visit-summary').toSorted(
    (a, b) => instantMs(b.fields.arrived) - instantMs(a.fields.arrived) || (a.id < b.id ? 1 : -1),
  );
  return groupBy(
    newest.map(({ fields }) => fields),
    ({ well }) => well,
  );
}

/** Shared pumps whose inside the sample passes. */
function sharedPumps(states: readonly RecordState[]): ReadonlyMap<string, RecordState<FieldsOf<typeof unit>>> {
  const units = ofKind<typeof unit>(states, 'unit');
  const pumps = units.filter((one) => one.fields.use === 'shared' && isDownholePump(one as unknown as UnitRecord));
  return new Map(pumps.map((one) => [one.id, one]));
}

function pumpsOf(states: readonly RecordState[], timeZone: string): PumpOfCrew[] {
  const pumps = sharedPumps(states);
  const day = (at: string) => dayOf(at, timeZone);
  return ofKind<typeof signOut>(states, 'sign-out').flatMap(({ fields: { unit: id, crew, from, until } }) => {
    const pump = pumps.get(id);
    if (!pump) return [];
    const { label, type } = pump.fields;
    return [{ unit: id, label, type, crew, from: day(from), until: until ? day(until) : null }];
  });
}

function pumpDaysOf(states: readonly RecordState[], timeZone: string): PumpDay[] {
  const pumps = sharedPumps(states);
  return ofKind<typeof pumpSetUp>(states, 'pump-set-up').flatMap(({ fields: { pump, observed } }) => {
    const its = pumps.get(pump);
    return its ? [{ unit: pump, label: its.fields.label, day: dayOf(observed.at, timeZone) }] : [];
  });
}

/**
 * What the samples of an event are planned from: its records, what was given before, the last results of its wells from
 * before it, how they yielded, and which crew has which pump. Results decide whoever may read them.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function samplingFacts(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<PlanningFacts> {
  const { state } = await inSight(tx, feeds, 'event', id);
  const site = String(state.fields.site);
  const states = await feedStates(tx, [`event:${id}`, `site:${site}`, 'firm'], KINDS);
  const samples = eventSamples(state, states);
  const starts = await dayAtSite(tx, site, { day: String(state.fields.starts), now: '' });
  const wells = samples.wells.map((well) => well.id);
  const results = groupBy(await lastResults(tx, wells, starts.from), ({ well }) => well);
  const numbered = ['planned-sample', 'sample', 'blank'];
  return {
    firm: tx.firm,
    samples,
    numbersGiven: texts(states, numbered, ['number', 'laboratoryNumber']),
    labelsGiven: texts(states, ['container'], ['label']),
    voided: new Set(states.flatMap((one) => (one.voided === null ? [] : one.id))),
    lastResults: results as unknown as ReadonlyMap<string, readonly LastResult[]>,
    summaries: summariesOf(states),
    pumps: pumpsOf(states, starts.timeZone),
    pumpDays: pumpDaysOf(states, starts.timeZone),
  };
}
