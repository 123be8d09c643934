import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import { type MayGoDown, mayGoDown } from '../../rules/decon/may-go-down.ts';
import { type DeconPlan, planDecon } from '../../rules/decon/plan-decon.ts';
import { wellName } from '../../rules/equipment/equipment-index.ts';
import type { UnitRecord } from '../../rules/equipment/equipment-records.ts';
import { plansOf } from '../../rules/equipment/plans-of.ts';
import type { UnitLine } from '../../rules/equipment/unit-line.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { type EquipmentLimit, limitsOfUnit } from './equipment-limits.ts';
import { type UnitHere, unitHere } from './unit-here.ts';

export interface MayGoAsked {
  readonly unit: string;
  /** Where it is to go next, where that is known. */
  readonly well?: string | undefined;
  /** What is sampled there; where nobody says, what was sampled there before, as far as it is here. */
  readonly suites?: readonly string[] | undefined;
  /** By whose plan. */
  readonly event?: string | undefined;
}

export interface MayGoHere extends MayGoDown {
  readonly unit: UnitHere;
  /** Wells that it met since it was last clean, the last one last; empty where none is known here. */
  readonly wellsBehind: readonly string[];
  /** How it is cleaned: effort by what it is, protocols, steps. */
  readonly decon: DeconPlan;
  /** What was asked to be sampled there, or is taken to be. */
  readonly suites: readonly string[];
  readonly limits: readonly EquipmentLimit[];
}

/** What it met since it was last clean: all of it may still be on it. */
function wellsBehind(line: UnitLine | undefined): readonly string[] {
  if (!line) return [];
  const clean = line.life.spans.findLast(({ state }) => state === 'clean');
  const since = line.wet.filter(({ from }) => from.ms >= (clean?.fromMs ?? Number.NEGATIVE_INFINITY));
  return [...new Set(since.map(({ well }) => well).toReversed())].toReversed();
}

/** Undefined where one of the wells is not described: then nobody knows what it met. */
function contaminantsOf(all: EquipmentHere, wells: readonly string[]): readonly ContaminantClass[] | undefined {
  const found = wells.map((well) => all.facts.index.wells.get(well)?.fields.contaminants);
  return wells.length === 0 || found.some((one) => !one) ? undefined : found.flatMap((one) => one ?? []);
}

function suitesBefore({ facts: { index } }: EquipmentHere, well: string | undefined): readonly string[] {
  const there = [...index.samples.values()].filter(
    ({ record }) => index.visits.get(record.fields.visit)?.well === well,
  );
  return [...new Set(there.flatMap(({ record }) => record.fields.suites))].toSorted();
}

function planOf(all: EquipmentHere, record: UnitRecord, asked: MayGoAsked, behind: readonly string[]) {
  const { index } = all.facts;
  const name = (well: string | null | undefined) => (well ? wellName(index, well) : undefined);
  const { type, label, use, dedicatedTo, wettedParts } = record.fields;
  const last = behind.at(-1);
  return planDecon({
    unit: { type, label, use, dedicatedTo: name(dedicatedTo), wettedParts },
    left: { well: name(last), contaminants: contaminantsOf(all, behind) },
    next: { well: name(asked.well), suites: asked.suites },
    planned: plansOf(all.records)(asked.event).deconProtocols ?? undefined,
  });
}

/**
 * May this unit go into this well, and how is it cleaned before: asked at the truck, without a signal. It answers a plan;
 * a unit that goes in nevertheless is recorded, kept and asked about. Null for a unit that is not on this device.
 */
export function mayGoDownHere(all: EquipmentHere, asked: MayGoAsked): MayGoHere | null {
  const { index } = all.facts;
  const record = index.units.get(asked.unit);
  if (!record) return null;
  const unit = unitHere(all, asked.unit);
  const suites = asked.suites ?? suitesBefore(all, asked.well);
  // where only the server knows what it met last, nothing is known here of that well
  const behind = unit.goesBy === 'server' && unit.standing !== 'agrees' ? [] : wellsBehind(index.lines.get(asked.unit));
  const decon = planOf(all, record, { ...asked, suites }, behind);
  const at = unit.state?.well ?? behind.at(-1);
  const answer = mayGoDown({
    unit: record.fields.label,
    state: unit.state?.state ?? 'unknown',
    wellLeft: at ? wellName(index, at) : undefined,
    wellNext: asked.well ? wellName(index, asked.well) : undefined,
    isNothingOwed: decon.effort === 'none',
    isNeverMoved: decon.effort === 'replace',
  });
  return { ...answer, unit, wellsBehind: behind, decon, suites, limits: limitsOfUnit(all, unit) };
}
