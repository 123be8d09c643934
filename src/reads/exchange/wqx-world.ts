import type { FieldsOf } from '../../protocol/kind.ts';
import { firm } from '../../protocol/kinds/firm.ts';
import { measuringPoint } from '../../protocol/kinds/measuring-point.ts';
import { pumpSetUp } from '../../protocol/kinds/pump-set-up.ts';
import { reading } from '../../protocol/kinds/reading.ts';
import { sounding } from '../../protocol/kinds/sounding.ts';
import { unit } from '../../protocol/kinds/unit.ts';
import { waterLevel } from '../../protocol/kinds/water-level.ts';
import type { RecordState } from '../../protocol/record.ts';
import { readable } from '../../rules/readable.ts';
import { EVENT_SAMPLES_KINDS, eventSamples } from '../../rules/samples/event-samples.ts';
import { indexSamples, type SamplesIndex } from '../../rules/samples/samples-index.ts';
import type { MeasuringPoint } from '../../rules/well-rounds/well-records.ts';
import { feedStates } from '../../store/read/feed-states.ts';
import type { ReadTx } from '../../store/read/transaction.ts';
import { groupBy } from '../group-by.ts';
import { inSight } from '../in-sight.ts';

const FIELD_KINDS = [reading, waterLevel, sounding, pumpSetUp, unit, measuringPoint, firm];

export type Reading = RecordState<FieldsOf<typeof reading>>;
export type Level = RecordState<FieldsOf<typeof waterLevel>>;
export type Sounding = RecordState<FieldsOf<typeof sounding>>;
type SetUp = RecordState<FieldsOf<typeof pumpSetUp>>;
type Unit = RecordState<FieldsOf<typeof unit>>;

/** The records of an event that are told to the exchange. */
export interface WqxWorld {
  readonly index: SamplesIndex;
  readonly timeZone: string;
  readonly firmName: string;
  readonly readings: readonly Reading[];
  readonly levels: readonly Level[];
  readonly soundings: readonly Sounding[];
  /** The latest of each visit. */
  readonly setUps: ReadonlyMap<string, SetUp>;
  readonly units: ReadonlyMap<string, Unit>;
  readonly points: ReadonlyMap<string, readonly MeasuringPoint[]>;
}

/** @throws Problem `record_missing` for an event that is not there or that the reader does not see */
export async function wqxWorld(tx: ReadTx, feeds: readonly string[] | null, event: string): Promise<WqxWorld> {
  const { state } = await inSight(tx, feeds, 'event', event);
  const its = [`event:${event}`, `site:${String(state.fields.site)}`, 'firm'];
  const states = await feedStates(tx, its, [...EVENT_SAMPLES_KINDS, ...FIELD_KINDS.map(({ name }) => name)]);
  const standing = groupBy(
    states.filter(({ voided }) => voided === null),
    ({ kind }) => kind,
  );
  // what was stored has the shape of its kind, once it is read as one
  const of = <One>(kind: { readonly name: string }) =>
    (standing.get(kind.name) ?? []).map((one) => readable(one) as unknown as One);
  const samples = eventSamples(state, states);
  const setUps = of<SetUp>(pumpSetUp).toSorted(
    (a, b) => Date.parse(a.fields.observed.at) - Date.parse(b.fields.observed.at),
  );
  const [ours] = of<RecordState<FieldsOf<typeof firm>>>(firm);
  return {
    index: indexSamples(samples),
    timeZone: samples.site?.fields.timeZone ?? 'UTC',
    firmName: ours?.fields.name ?? 'not named',
    readings: of<Reading>(reading),
    levels: of<Level>(waterLevel),
    soundings: of<Sounding>(sounding),
    setUps: new Map(setUps.map((one) => [one.fields.visit, one])),
    units: new Map(of<Unit>(unit).map((one) => [one.id, one])),
    points: groupBy(of<MeasuringPoint>(measuringPoint), ({ fields }) => fields.well),
  };
}
