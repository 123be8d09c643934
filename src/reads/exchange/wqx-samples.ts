import type { WqxActivityKind } from '../../documents/wqx/activity-types.ts';
import type { WqxActivity } from '../../documents/wqx/wqx-facts.ts';
import type { UNIT_TYPES } from '../../protocol/kinds/unit.ts';
import { laboratoryOf } from '../../rules/samples/laboratory-of.ts';
import type {
  BlankRecord,
  ContainerRecord,
  LaboratoryRecord,
  SampleRecord,
} from '../../rules/samples/sample-records.ts';
import { groupBy } from '../group-by.ts';
import { characteristicsOf, type WqxAsked } from './wqx-asked.ts';
import type { WqxNames } from './wqx-names.ts';
import { wqxResult } from './wqx-results.ts';
import type { WqxWorld } from './wqx-world.ts';

/** EPA, Water Quality Exchange, domain list of sample collection equipment, version 3.0.209. */
const EQUIPMENT: Partial<Readonly<Record<(typeof UNIT_TYPES)[number], string>>> = {
  'bladder-pump': 'Pump/Bladder',
  'peristaltic-pump': 'Pump/Peristaltic',
  'submersible-pump': 'Pump/Submersible',
};

/** A blank of a unit or after a decon is a rinsate of it; any other one of equipment is not. */
function blankKind({ fields: { type, unit, decon } }: BlankRecord): WqxActivityKind {
  if (type !== 'equipment') return `${type}-blank`;
  return unit !== undefined || decon !== undefined ? 'rinsate-blank' : 'equipment-blank';
}

function collectionOf(world: WqxWorld, names: WqxNames, visitId: string): Pick<WqxActivity, 'collection'> {
  const visit = world.index.visits.get(visitId);
  const pump = world.units.get(world.setUps.get(visitId)?.fields.pump ?? '');
  const equipment = pump && EQUIPMENT[pump.fields.type];
  if (!visit || equipment === undefined) return {};
  const { method } = visit.fields;
  return { collection: { method: { identifier: method, context: names.organization, name: method }, equipment } };
}

function lastFill(world: WqxWorld, containers: readonly ContainerRecord[], collected: string): string | undefined {
  const fills = containers.flatMap(({ id }) => world.index.fills.get(id) ?? []).map(({ fields }) => fields.collected);
  const last = fills.toSorted((a, b) => Date.parse(a) - Date.parse(b)).at(-1);
  return last !== undefined && Date.parse(last) > Date.parse(collected) ? last : undefined;
}

/** The samples and blanks of an event, with what the laboratory found. */
export function* sampleActivities(world: WqxWorld, names: WqxNames, asked: WqxAsked): Generator<WqxActivity, void> {
  const { index, timeZone } = world;
  const characteristics = characteristicsOf(asked);
  const containersOf = groupBy([...index.of.containers], ({ fields }) => fields.sample ?? fields.blank ?? '');
  const common = (one: SampleRecord | BlankRecord, kind: WqxActivityKind): WqxActivity => {
    const { number, collected, remark } = one.fields;
    const containers = containersOf.get(one.id) ?? [];
    const ended = lastFill(world, containers, collected);
    const laboratory: LaboratoryRecord | undefined = containers[0] && laboratoryOf(index, containers[0]);
    const of = {
      characteristics,
      methodContext: asked.methodContext,
      laboratory: laboratory?.fields.name,
      timeZone: laboratory?.fields.timeZone ?? timeZone,
    };
    return {
      identifier: names.sample(one),
      kind,
      projects: [names.project],
      began: { at: collected, timeZone },
      ...(ended === undefined ? {} : { ended: { at: ended, timeZone } }),
      comment: [`Sample ${number}.`, remark].filter(Boolean).join(' '),
      results: (index.results.get(one.id) ?? []).map((result) => wqxResult(result, of)),
    };
  };
  for (const sample of index.of.samples) {
    const { visit, type, planned } = sample.fields;
    const plan = planned === undefined ? undefined : index.planned.get(planned);
    const well = names.well(index.visits.get(visit)?.fields.well ?? '');
    const kind = type ?? plan?.fields.type ?? 'normal';
    const activity = common(sample, kind);
    yield { ...activity, ...collectionOf(world, names, visit), ...(well === undefined ? {} : { well }) };
  }
  for (const blank of index.of.blanks) yield common(blank, blankKind(blank));
}
