import { activityType } from './activity-types.ts';
import { type Element, type Filling, shape } from './element.ts';
import { measureFaults, measureFilling, methodFilling, resultElement } from './result-element.ts';
import type { NotExported, WqxActivity } from './wqx-facts.ts';
import { ACTIVITY, SAMPLE } from './wqx-schema.ts';
import { wqxTime } from './wqx-times.ts';

function describe(activity: WqxActivity): Filling {
  const type = activityType(activity.kind);
  const began = wqxTime(activity.began);
  const ended = activity.ended && wqxTime(activity.ended);
  const blankWater = activity.blankWater === 'deionized' ? 'Deionized Water' : undefined;
  return {
    ActivityIdentifier: activity.identifier,
    ActivityTypeCode: type?.code,
    ActivityMediaName: 'Water',
    ActivityMediaSubdivisionName: type?.isBlank ? blankWater : 'Groundwater',
    ActivityStartDate: began.date,
    ActivityStartTime: began.time,
    ActivityEndDate: ended?.date,
    ActivityEndTime: ended?.time,
    ActivityDepthHeightMeasure: measureFilling(activity.depth),
    ProjectIdentifier: activity.projects,
    ActivityConductingOrganizationText: activity.conductedBy,
    MonitoringLocationIdentifier: activity.well,
    ActivityCommentText: activity.comment,
  };
}

function sampleFilling({ collection, container }: WqxActivity): Filling {
  return {
    SampleCollectionMethod: methodFilling(collection?.method),
    SampleCollectionEquipmentName: collection?.equipment,
    SampleCollectionEquipmentCommentText: collection?.equipmentComment,
    SamplePreparation: container && {
      SampleContainerLabelName: container.label,
      SampleContainerTypeName: container.type,
      SampleContainerColorName: container.color,
      ChemicalPreservativeUsedName: container.preservative,
      ThermalPreservativeUsedName: container.cooling,
      SampleTransportStorageDescription: container.transport,
    },
  };
}

function faultsOf(activity: WqxActivity): readonly string[] {
  const type = activityType(activity.kind);
  if (!type) return [`the exchange has no type of activity for a ${activity.kind.replaceAll('-', ' ')}`];
  return [
    ...(activity.identifier === '' ? ['it has no identifier'] : []),
    ...(type.needsLocation && !activity.well ? [`"${type.code}" asks for a monitoring location`] : []),
    ...(activity.projects.length === 0 ? ['it belongs to no project, and the exchange asks for one'] : []),
    ...measureFaults(activity.depth, 'the depth'),
  ];
}

/** One activity with its results; a result that cannot be exported is left out and named, and so is an activity. */
export function activityElement(activity: WqxActivity): {
  readonly elements: readonly Element[];
  readonly notExported: readonly NotExported[];
} {
  const description = shape(ACTIVITY, describe(activity));
  const sample = shape(SAMPLE, sampleFilling(activity));
  const faults = [...faultsOf(activity), ...description.faults, ...sample.faults];
  if (faults.length > 0) {
    return { elements: [], notExported: [{ what: `activity ${activity.identifier}`, why: faults.join('; ') }] };
  }
  const needsMethod = activityType(activity.kind)?.needsMethod === true;
  const results = activity.results.map((result) => ({ result, ...resultElement(result, needsMethod) }));
  const left = results.filter((one) => one.faults.length > 0);
  const told = results.filter((one) => one.faults.length === 0).flatMap(({ elements }) => elements);
  return {
    elements: [{ name: 'Activity', children: [...description.elements, ...sample.elements, ...told] }],
    notExported: left.map(({ result, faults: why }) => ({
      what: `result ${result.id} of activity ${activity.identifier}`,
      why: why.join('; '),
    })),
  };
}
