import { instantMs } from '../../science/instant-ms.ts';
import { byId, byKey } from '../equipment/by-key.ts';
import type { EventSamples } from './event-samples.ts';
import type {
  BlankRecord,
  ContainerRecord,
  CoolerRecord,
  FillRecord,
  LaboratoryRecord,
  PlannedRecord,
  ResultRecord,
  SampleRecord,
  SuiteRecord,
  VisitRecord,
  WellRecord,
} from './sample-records.ts';

/** The records of an event's samples by what they are looked up by. */
export interface SamplesIndex {
  readonly of: EventSamples;
  readonly suites: ReadonlyMap<string, SuiteRecord>;
  readonly samples: ReadonlyMap<string, SampleRecord>;
  readonly blanks: ReadonlyMap<string, BlankRecord>;
  readonly planned: ReadonlyMap<string, PlannedRecord>;
  readonly visits: ReadonlyMap<string, VisitRecord>;
  readonly wells: ReadonlyMap<string, WellRecord>;
  readonly coolers: ReadonlyMap<string, CoolerRecord>;
  readonly laboratories: ReadonlyMap<string, LaboratoryRecord>;
  /** Of each container, the earliest first. */
  readonly fills: ReadonlyMap<string, readonly FillRecord[]>;
  /** Of each sample and blank. */
  readonly results: ReadonlyMap<string, readonly ResultRecord[]>;
}

/** By name: of two suites of one name the first by its id counts; whoever made the second is asked elsewhere. */
export function suitesByName(suites: readonly SuiteRecord[]): SamplesIndex['suites'] {
  return new Map(suites.toReversed().map((suite) => [suite.fields.name, suite]));
}

export function indexSamples(of: EventSamples): SamplesIndex {
  const fills = of.fills.toSorted((a, b) => instantMs(a.fields.collected) - instantMs(b.fields.collected));
  return {
    of,
    suites: suitesByName(of.suites),
    samples: byId(of.samples),
    blanks: byId(of.blanks),
    planned: byId(of.plannedSamples),
    visits: byId(of.visits),
    wells: byId(of.wells),
    coolers: byId(of.coolers),
    laboratories: byId(of.laboratories),
    fills: byKey(fills, ({ fields }) => fields.container),
    results: byKey(of.results, ({ fields }) => fields.sample ?? fields.blank),
  };
}

/** The sample, blank and planned sample of a container, as far as they are known. */
export interface Holder {
  readonly sample: SampleRecord | undefined;
  readonly blank: BlankRecord | undefined;
  readonly planned: PlannedRecord | undefined;
}

export function holderOf(index: SamplesIndex, { fields }: ContainerRecord): Holder {
  const sample = fields.sample === undefined ? undefined : index.samples.get(fields.sample);
  const blank = fields.blank === undefined ? undefined : index.blanks.get(fields.blank);
  const planned = fields.planned ?? sample?.fields.planned ?? blank?.fields.planned;
  return { sample, blank, planned: planned === undefined ? undefined : index.planned.get(planned) };
}

/** Where the water of a container comes from, or is to come from; undefined for a blank. */
export function wellOf(index: SamplesIndex, { sample, planned }: Holder): WellRecord | undefined {
  const visit = sample && index.visits.get(sample.fields.visit);
  const well = visit?.fields.well ?? planned?.fields.well;
  return well === undefined ? undefined : index.wells.get(well);
}

/**
 * The suite that asks for a group in a container: the one that the container names, or else the first of its sample that
 * asks for the group; a bottle that serves several groups may serve several suites.
 */
export function suiteAsking(
  index: Pick<SamplesIndex, 'suites'>,
  container: ContainerRecord,
  holder: Holder,
  group: string = container.fields.group,
): SuiteRecord | undefined {
  const asks = (one: SuiteRecord | undefined) => one?.fields.groups.some((its) => its.group === group) === true;
  const { suite } = container.fields;
  const named = suite === undefined ? undefined : index.suites.get(suite);
  if (asks(named)) return named;
  const names = (holder.sample ?? holder.blank ?? holder.planned)?.fields.suites ?? [];
  return names.map((name) => index.suites.get(name)).find(asks) ?? named;
}
