import { CONTAINER_KINDS, CONTAINER_MATERIALS } from '../../catalog/analytes/analyte-group.ts';
import { FILL_ORDER_IDS, PFAS_PLACES } from '../../catalog/analytes/fill-orders.ts';
import { CHECK_PARAMETERS } from '../../catalog/calibration/check-limit-set.ts';
import { CHECK_LIMIT_SET_IDS } from '../../catalog/calibration/check-limit-sets.ts';
import { CONTAMINANT_CLASSES, DECON_PROTOCOL_IDS } from '../../catalog/decon/decon-protocol.ts';
import { MATERIAL_NAMES } from '../../catalog/materials/wetted-materials.ts';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { PUMP_KINDS } from '../../catalog/pumps/pump-kinds.ts';
import { CONDUCTIVITY_STANDARD_IDS } from '../../catalog/standards/conductivity-standards.ts';
import { PH_BUFFER_IDS } from '../../catalog/standards/ph-buffers.ts';
import { REFERENCE_ELECTRODE_IDS } from '../../catalog/standards/reference-electrodes.ts';
import { ZOBELL_TABLE_IDS } from '../../catalog/standards/zobell-tables.ts';
import { CHECK_BASES, PERCENT_OF, STRICTNESSES } from '../../protocol/calibration-plan.ts';
import { CHECK_ACTS, CONDUCTANCE_SHOWN, DAY_PARTS, TURBIDITY_UNITS } from '../../protocol/kinds/calibration-check.ts';
import { call } from '../../protocol/kinds/call.ts';
import { CONTAINER_COLOURS, CONTAINER_PRESERVATIVES } from '../../protocol/kinds/container.ts';
import { WEEKDAYS } from '../../protocol/kinds/laboratory.ts';
import { RESULT_CONDITIONS } from '../../protocol/kinds/laboratory-result.ts';
import { OCCURRENCE_TYPES } from '../../protocol/kinds/occurrence.ts';
import { PART_TYPES } from '../../protocol/kinds/part.ts';
import { PART_ACTIONS } from '../../protocol/kinds/part-change.ts';
import { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import { UNIT_SHARING, UNIT_TYPES } from '../../protocol/kinds/unit.ts';
import { SERVICE_TYPES } from '../../protocol/kinds/unit-service.ts';
import { UNIT_STATES } from '../../protocol/kinds/unit-state.ts';
import { USES } from '../../protocol/kinds/unit-use.ts';
import { VISIT_OUTCOMES, visit } from '../../protocol/kinds/visit.ts';
import { WELL_CLASSES, well } from '../../protocol/kinds/well.ts';
import { DECON_UNIT_TYPES } from '../../rules/decon/gear-of-unit.ts';
import { SAMPLE_STANDINGS } from '../../rules/equipment/judged-sample.ts';
import { CARRIER_KINDS } from '../../rules/equipment-told/carrier-told.ts';
import { BLANK_STANDINGS, PART_ENDS } from '../../rules/equipment-told/told-fields.ts';
import { TIMELINE_ENTRIES } from '../../rules/equipment-told/unit-timeline-told.ts';
import { leftOut } from '../../rules/well-rounds/depths-of-round.ts';
import { historyHereOutput } from '../../rules/well-rounds/history-here.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../science/arithmetic-names.ts';
import type { Shape } from './shapes.ts';

/** purge-set-up, depthToWater -> PurgeSetUp, DepthToWater */
export function pascal(name: string): string {
  return name.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

/** pump-set-up -> pumpSetUp */
export function camel(name: string): string {
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

/** parameters -> parameter: what one item of a list is called */
export function singular(name: string): string {
  return name.endsWith('ss') || !name.endsWith('s') ? name : name.slice(0, -1);
}

/** Enumerations that several fields share have a name of their own; the others are called after their field. */
const SHARED_ENUMS = new Map<string, string>(
  (
    [
      [PARAMETERS, 'Parameter'],
      [READING_QUANTITY_NAMES, 'ReadingQuantity'],
      [PERCENT_ARITHMETICS, 'PercentArithmetic'],
      [ABSOLUTE_ARITHMETICS, 'AbsoluteArithmetic'],
      [OCCURRENCE_TYPES, 'OccurrenceType'],
      [call.fields.shape.decision.options, 'CallDecision'],
      [UNIT_TYPES, 'UnitType'],
      [VISIT_OUTCOMES, 'VisitOutcome'],
      [visit.fields.shape.method.options, 'VisitMethod'],
      [well.fields.shape.depthsFrom.options, 'WellDepthsFrom'],
      [well.fields.shape.standing.options, 'WellStanding'],
      [CHECK_PARAMETERS, 'CheckParameter'],
      [CHECK_ACTS, 'CheckAct'],
      [DAY_PARTS, 'DayPart'],
      [TURBIDITY_UNITS, 'TurbidityUnit'],
      [CONDUCTANCE_SHOWN, 'ConductanceShown'],
      [CHECK_BASES, 'CheckBasis'],
      [PERCENT_OF, 'CheckPercentOf'],
      [STRICTNESSES, 'CheckStrictness'],
      [UNIT_SHARING, 'UnitSharing'],
      [UNIT_STATES, 'UnitStateName'],
      [USES, 'HowUsed'],
      [PART_TYPES, 'PartType'],
      [PART_ACTIONS, 'PartAction'],
      [WELL_CLASSES, 'WellClass'],
      [RESULT_CONDITIONS, 'ResultCondition'],
      [CONTAINER_KINDS, 'ContainerType'],
      [CONTAINER_MATERIALS, 'ContainerMaterial'],
      [CONTAINER_COLOURS, 'ContainerColour'],
      [CONTAINER_PRESERVATIVES, 'ContainerPreservative'],
      [FILL_ORDER_IDS, 'FillOrderId'],
      [PFAS_PLACES, 'PfasPlace'],
      [WEEKDAYS, 'Weekday'],
      [CHECK_LIMIT_SET_IDS, 'CheckLimitSetId'],
      [PH_BUFFER_IDS, 'PhBufferId'],
      [CONDUCTIVITY_STANDARD_IDS, 'ConductivityStandardId'],
      [REFERENCE_ELECTRODE_IDS, 'ReferenceElectrodeId'],
      [ZOBELL_TABLE_IDS, 'ZobellTableId'],
      [PUMP_KINDS, 'PumpKind'],
      [MATERIAL_NAMES, 'MaterialName'],
      [CONTAMINANT_CLASSES, 'ContaminantClass'],
      [DECON_PROTOCOL_IDS, 'DeconProtocolId'],
      [DECON_UNIT_TYPES, 'DeconUnitType'],
      [leftOut.shape.field.options, 'RoundDepth'],
      [historyHereOutput.shape.quantity.options, 'RoundQuantity'],
      [SERVICE_TYPES, 'UnitServiceType'],
      [['pass', 'fail'], 'UnitServiceResult'],
      [SAMPLE_STANDINGS, 'SampleStanding'],
      [BLANK_STANDINGS, 'BlankStanding'],
      [PART_ENDS, 'PartEnd'],
      [TIMELINE_ENTRIES, 'TimelineEntryKind'],
      [CARRIER_KINDS, 'CarrierKind'],
      [['plan', 'set', 'default'], 'ChosenBy'],
      [['met', 'not-met', 'not-known', 'not-a-condition'], 'ConditionStatus'],
    ] satisfies [readonly string[], string][]
  ).map(([values, name]) => [values.join(' '), name]),
);

export function enumTypeName(values: readonly string[], path: string): string {
  return SHARED_ENUMS.get(values.join(' ')) ?? path;
}

/** Objects that mean the same wherever they stand. */
const SHARED_OBJECTS: Readonly<Record<string, string>> = {
  'at entered captured readBy writtenBy': 'Observed',
  'value record by client mutation': 'Rival',
  'criteria stabilization equipment calibration sampling': 'EventPlan',
  'record kind': 'Because',
  'kind id name': 'Carrier',
  'carrier visit well wellName from fromWells decon samples sentence': 'CarryOver',
};

export function objectTypeName(shape: Extract<Shape, { type: 'object' }>, path: string): string {
  return SHARED_OBJECTS[shape.fields.map((field) => field.name).join(' ')] ?? path;
}
