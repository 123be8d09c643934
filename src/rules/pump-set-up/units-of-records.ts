import type { PumpKindName } from '../../catalog/pumps/pump-kinds.ts';
import type { FieldsOf } from '../../protocol/kind.ts';
import type { UNIT_TYPES, unit } from '../../protocol/kinds/unit.ts';
import type { PlanInput, UnitAtHand } from './plan-input.ts';

export interface RecordedUnit {
  readonly id: string;
  readonly fields: FieldsOf<typeof unit>;
}

type UnitType = (typeof UNIT_TYPES)[number];

/** What a unit is to a plan. A controller holds the regulator of the gas; what stands before it may be weaker still. */
const PART_OF: Readonly<Partial<Record<UnitType, UnitAtHand['part']>>> = {
  'bladder-pump': 'pump',
  'submersible-pump': 'pump',
  'peristaltic-pump': 'pump',
  'pump-controller': 'regulator',
  regulator: 'regulator',
  tubing: 'tubing',
  fitting: 'fitting',
  compressor: 'other',
  'flow-cell': 'flow-cell',
};

const LONGEST_LABEL = 64;

function pumpKind(type: UnitType): PumpKindName | undefined {
  return type === 'bladder-pump' || type === 'submersible-pump' || type === 'peristaltic-pump' ? type : undefined;
}

/** What is recorded, without what is not: a plan takes a missing figure for unknown. */
export function only<Fields extends object>(
  fields: Fields,
): { [Key in keyof Fields]?: Exclude<Fields[Key], undefined> } {
  const there = Object.entries(fields).filter(([, value]) => value !== undefined);
  return Object.fromEntries(there) as { [Key in keyof Fields]?: Exclude<Fields[Key], undefined> };
}

/** A cell that is built into a meter counts as one. */
function partOf({ type, flowCellVolumeMl }: RecordedUnit['fields']): UnitAtHand['part'] | undefined {
  return PART_OF[type] ?? (flowCellVolumeMl === undefined ? undefined : 'flow-cell');
}

/** What of it touches the water, each material once: it carries no rating of its own. */
function wetted({ label, wettedParts = [] }: RecordedUnit['fields']): UnitAtHand[] {
  const found = wettedParts.map(({ part, material }): UnitAtHand => {
    const kind = /bladder/i.test(part) ? 'bladder' : 'other';
    return { part: kind, label: `${label} ${part}`.slice(0, LONGEST_LABEL), material };
  });
  return found.filter((one, index) => {
    return found.findIndex((other) => other.part === one.part && other.material === one.material) === index;
  });
}

/** A recorded unit as a plan takes it; a plan asks nothing of some. */
export function unitsAtHand({ fields }: RecordedUnit): UnitAtHand[] {
  const part = partOf(fields);
  if (part === undefined) return [];
  const { type, label, outsideDiameterIn, maximumDepthFt, maximumPressurePsi, insideVolumeMl } = fields;
  const volumeMl = part === 'flow-cell' ? fields.flowCellVolumeMl : insideVolumeMl;
  const said = {
    pumpKind: pumpKind(type),
    outsideDiameterIn,
    maximumDepthFt,
    volumeMl,
    maximumPsi: maximumPressurePsi,
  };
  return [{ part, label, ...only(said) }, ...wetted(fields)];
}

function theOnly<Value>(values: readonly Value[]): Value | undefined {
  return values.length === 1 ? values[0] : undefined;
}

/** What drives the pump, where the units leave no doubt of it. */
export function driveOf(
  units: readonly RecordedUnit[],
): Partial<Pick<PlanInput, 'driveGasFrom' | 'cylinderL' | 'batteryAh'>> {
  const ofType = (type: UnitType) => units.filter(({ fields }) => fields.type === type);
  const [compressors, cylinders] = [ofType('compressor'), ofType('gas-cylinder')];
  const batteries = units.flatMap(({ fields }) => fields.batteryCapacityAh ?? []);
  const from = cylinders.length > 0 ? ('cylinder' as const) : ('compressor' as const);
  const isClear = cylinders.length > 0 !== compressors.length > 0;
  return only({
    driveGasFrom: isClear ? from : undefined,
    cylinderL: theOnly(cylinders)?.fields.tankVolumeL,
    batteryAh: theOnly(batteries),
  });
}
