import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import { waterContact } from '../../rules/decon/gear-of-unit.ts';
import { type MayGoDown, mayGoDown } from '../../rules/decon/may-go-down.ts';
import { type DeconPlan, planDecon } from '../../rules/decon/plan-decon.ts';
import { wellName } from '../../rules/equipment/equipment-index.ts';
import type { UnitRecord } from '../../rules/equipment/equipment-records.ts';
import { failureOf } from '../../rules/equipment/failed-check.ts';
import { type OpenClasses, openClassesInto, openSentence } from '../../rules/equipment/open-classes.ts';
import { plansOf } from '../../rules/equipment/plans-of.ts';
import { isDry } from '../../rules/equipment/unit-kind.ts';
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

/** Dedicated gear that nobody cleaned is clean for its own well and for no other. */
function isCleanForItsOwn({ unit, life }: UnitLine, well: string | undefined): boolean {
  const span = life.spans.at(-1);
  const { use, dedicatedTo } = unit?.fields ?? {};
  return use === 'dedicated' && dedicatedTo !== well && span?.state === 'clean' && span.cause.by === 'own';
}

/** Its state as it is to be taken for the well that it goes to. */
function stateFor(line: UnitLine | undefined, { state }: UnitHere, well: string | undefined): UnitStateName {
  const known = state?.state ?? 'unknown';
  if (known !== 'clean' || !line || !isCleanForItsOwn(line, well)) return known;
  return line.wet.length > 0 ? 'used' : 'unknown';
}

/** What it met since it was last clean: all of it may still be on it. Of tubing, which no cleaning mends, all. */
function wellsBehind(line: UnitLine | undefined, well: string | undefined): readonly string[] {
  if (!line) return [];
  const isTubing = line.unit !== undefined && waterContact(line.unit.fields.type) === 'tubing';
  const clean =
    isTubing || isCleanForItsOwn(line, well) ? undefined : line.life.spans.findLast(({ state }) => state === 'clean');
  const since = line.wet.filter(({ from }) => from.ms >= (clean?.fromMs ?? Number.NEGATIVE_INFINITY));
  return [...new Set(since.map(({ well }) => well).toReversed())].toReversed();
}

/** Clean by its records, and not of what its last well holds: the same is asked once it went in. */
function stillOpen(all: EquipmentHere, { unit, well }: MayGoAsked, here: UnitHere): OpenClasses | null {
  const { index } = all.facts;
  const line = index.lines.get(unit);
  const { use, dedicatedTo } = line?.unit?.fields ?? {};
  if (use === 'dedicated' && dedicatedTo === well) return null;
  if (!line || here.state?.state !== 'clean') return null;
  return openClassesInto(index, { line, before: line.wet.at(-1), well, atMs: Number.POSITIVE_INFINITY });
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
  const { type, label, use, dedicatedTo, wettedParts } = record.fields;
  return planDecon({
    unit: { type, label, use, dedicatedTo, wettedParts },
    left: { well: behind.at(-1), alsoMet: behind.slice(0, -1), contaminants: contaminantsOf(all, behind) },
    next: { well: asked.well, suites: asked.suites },
    // wells of two sites may have one name
    named: (well) => wellName(all.facts.index, well),
    planned: plansOf(all.records)(asked.event).deconProtocols ?? undefined,
  });
}

/** What the flags ask about it however clean it is. */
function againstIt(all: EquipmentHere, { fields }: UnitRecord, unit: string, open: OpenClasses | null): string | null {
  const line = all.facts.index.lines.get(unit);
  const failed = failureOf(fields.label, line?.services.map(({ record }) => record) ?? []);
  return failed ?? (line && open ? openSentence(all.facts.index, line, open) : null);
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
  const line = index.lines.get(asked.unit);
  const isKnownHere = unit.goesBy !== 'server' || unit.standing === 'agrees';
  const open = isKnownHere ? stillOpen(all, asked, unit) : null;
  const met = isKnownHere ? wellsBehind(line, asked.well) : [];
  const behind = open && met.length === 0 ? [open.before.well] : met;
  const decon = planOf(all, record, { ...asked, suites }, behind);
  const state = stateFor(line, unit, asked.well);
  const answer = mayGoDown({
    unit: record.fields.label,
    state,
    wellLeft: unit.state?.well ?? behind.at(-1),
    wellNext: asked.well,
    named: (well) => wellName(index, well),
    // what is not known to be clean may have been anywhere
    isNothingOwed: decon.effort === 'none' && (state !== 'unknown' || isDry(record)),
    isNeverMoved: decon.effort === 'replace',
    against: againstIt(all, record, asked.unit, open),
  });
  return { ...answer, unit, wellsBehind: behind, decon, suites, limits: limitsOfUnit(all, unit) };
}
