import type { ByIntake, DrawnVolume, VolumeKind } from '../../catalog/criteria-set.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { systemVolume } from '../../science/tubing/system-volume.ts';
import { casingVolume } from '../../science/well/casing-volume.ts';
import type { SetUpRecord, WellRecord } from './assessment-input.ts';
import type { Options } from './read-plan.ts';
import { insideSubmergedScreen, standingColumn, type WellGeometry } from './well-geometry.ts';

/** What the volumes of a purge are computed from. */
export interface VolumeSources {
  readonly well: WellRecord | null;
  readonly setUp: SetUpRecord | null;
  readonly geometry: WellGeometry;
  readonly flowCellMl: string | null;
  readonly options: Options;
}

/** The volumes that must be drawn, less the grace; null where nothing is asked for or it is not known. */
export interface AskedVolumes {
  readonly beforeFirstMl: number | null;
  readonly betweenMl: number | null;
  /** What has to be recorded before they can be computed; empty where all that is asked for is known. */
  readonly lacks: readonly string[];
}

type Amount = { readonly ml: number } | { readonly lacks: readonly string[] };

function lacking(named: Readonly<Record<string, unknown>>): string[] {
  return Object.keys(named).filter((name) => named[name] === null || named[name] === undefined);
}

function amount(ml: number | Refusal): Amount {
  return isRefusal(ml) ? { lacks: [ml.refused] } : { ml };
}

/** The water that stands in the casing before the purge. */
export function wellVolumeMl({ well, geometry }: Pick<VolumeSources, 'well' | 'geometry'>): Amount {
  const diameter = well?.fields.casingInsideDiameterIn;
  const column = standingColumn(geometry);
  if (diameter === undefined || column === null) {
    const lacks = lacking({
      'inside diameter of the casing': diameter,
      'depth of the well below its measuring point, and the static level above it': column,
    });
    return { lacks };
  }
  const water = casingVolume({ insideDiameterIn: Number(diameter), waterColumnFt: column / 1_000_000 });
  return amount(isRefusal(water) ? water : water.ml);
}

function equipmentMl({ setUp, flowCellMl, options }: VolumeSources, withCell: boolean): Amount {
  const tubing = setUp?.fields.tubingInsideDiameterIn;
  const length = setUp?.fields.tubingLengthFt;
  const pump = options.pumpVolumeMl;
  const cell = withCell ? flowCellMl : '0';
  if (tubing === undefined || length === undefined || pump === null || cell === null) {
    const lacks = lacking({
      'volume of the pump, in the plan': pump,
      'inside diameter of the tubing': tubing,
      'length of the tubing': length,
      'volume of the flow cell': cell,
    });
    return { lacks };
  }
  const water = systemVolume({
    pumpMl: Number(pump),
    tubingInsideDiameterIn: Number(tubing),
    tubingLengthFt: Number(length),
    flowCellMl: Number(cell),
  });
  return amount(isRefusal(water) ? water : water.systemMl);
}

function volumeOfKind(kind: VolumeKind, sources: VolumeSources): Amount {
  if (kind === 'well-volume' || kind === 'casing-volume') return wellVolumeMl(sources);
  return equipmentMl(sources, kind === 'equipment-volume');
}

/** What is asked for where the intake hangs; undefined where that cannot be told. */
function atIntake(rule: DrawnVolume | ByIntake, geometry: WellGeometry): DrawnVolume | null | undefined {
  if ('times' in rule) return rule;
  const inside = insideSubmergedScreen(geometry);
  if (inside === null) return undefined;
  return inside ? rule.insideSubmergedScreen : rule.elsewhere;
}

const POSITION_LACKS = ['static level, screen and depth of the intake, to tell where it hangs'];

function ask(rule: DrawnVolume | ByIntake | null, sources: VolumeSources): Amount | null {
  const asked = rule === null ? null : atIntake(rule, sources.geometry);
  if (asked === undefined) return { lacks: POSITION_LACKS };
  if (asked === null) return null;
  const volume = volumeOfKind(asked.of, sources);
  if ('lacks' in volume) return volume;
  return { ml: volume.ml * Number(asked.times.value) * (1 - Number(sources.options.volumeGracePercent) / 100) };
}

function mlOf(asked: Amount | null): number | null {
  return asked !== null && 'ml' in asked ? asked.ml : null;
}

/** Computes from the records what must be drawn; null where the plan and the set ask for nothing of the kind. */
export function askedVolumes(sources: VolumeSources): AskedVolumes | null {
  const { beforeFirstReading, betweenReadings } = sources.options;
  const before = ask(beforeFirstReading, sources);
  const between = ask(betweenReadings, sources);
  if (before === null && between === null) return null;
  const lacks = [before, between].flatMap((asked) => (asked !== null && 'lacks' in asked ? asked.lacks : []));
  return { beforeFirstMl: mlOf(before), betweenMl: mlOf(between), lacks: [...new Set(lacks)] };
}
