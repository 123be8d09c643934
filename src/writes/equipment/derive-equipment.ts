import type { RecordState } from '../../protocol/record.ts';
import {
  type EquipmentSaid,
  equipmentDerived,
  equipmentFlagId,
  equipmentSaid,
  isOfEquipment,
  unitStateId,
} from '../../rules/derive/equipment-derived.ts';
import { reviewedAgain } from '../../rules/derive/flag-derived.ts';
import type { Held } from '../../rules/held.ts';
import { type UnitSeeds, unitRecords, unitsAround } from '../../store/write/load-equipment.ts';
import { flagsOfUnits, heldUnder } from '../../store/write/load-held.ts';
import type { WriteTx } from '../../store/write/transaction.ts';
import { writeDerived } from '../derive-group.ts';
import type { Draft, Group } from '../group.ts';
import { deriveEventFlags } from './derive-event-flags.ts';
import { loadMissing, take } from './load-more.ts';
import { recordsAround } from './records-around.ts';
import { NOW_AND_THEN, unitSeeds } from './unit-seeds.ts';

const REFERENCES = ['decon', 'sample', 'blank', 'flag'];

/** What changed records refer to and nobody has loaded, since the change did not name it. */
async function loadReferences(tx: WriteTx, group: Group, drafts: readonly Draft[]): Promise<void> {
  const sides = drafts.flatMap(({ held, before }) => (before ? [held, before] : [held]));
  const told = sides.filter(({ state }) => TELLING.includes(state.kind));
  const named = (held: readonly Held[]) => held.flatMap(({ state }) => REFERENCES.map((field) => state.fields[field]));
  const read = sides.filter(({ state }) => NOW_AND_THEN.includes(state.kind)).map(({ state }) => state.fields);
  const units = new Set(read.flatMap(({ meter, tape }) => [meter, tape]).filter((one) => typeof one === 'string'));
  await loadMissing(tx, group, [...named(told), ...[...units].map((unit) => unitStateId(tx.firm, unit))]);
  const further = told.flatMap(({ state }) => group.overlay.get(String(state.fields.blank)) ?? []);
  const samples = told.flatMap(({ state }) => group.overlay.get(String(state.fields.sample))?.visit ?? []);
  await loadMissing(tx, group, [...named(further), ...samples]);
}

const TELLING = ['decon-step', 'blank', 'laboratory-result', 'flag-review'];

function isNothing(seeds: UnitSeeds): boolean {
  return Object.values(seeds).every((ids: readonly string[]) => ids.length === 0);
}

/** What a record hangs in a well that may carry water to the next. */
function hungBy({ overlay }: Group, { state: { fields, kind } }: Held): readonly unknown[] {
  if (kind === 'pump-set-up') return [fields.pump];
  if (kind === 'unit-use') return [fields.unit];
  const tape = overlay.get(String(fields.tape));
  return tape && tape.state.fields.type !== 'water-level-tape' ? [tape.state.id] : [];
}

/** The unit of the blank that a result is of: what was found in it is not stored yet, and asks for what samples had. */
function blankedBy({ overlay }: Group, { state: { fields, kind } }: Held): readonly unknown[] {
  const blank = kind === 'laboratory-result' ? overlay.get(String(fields.blank)) : undefined;
  if (!blank) return [];
  const { unit, decon } = blank.state.fields;
  return [unit, overlay.get(String(decon))?.state.fields.unit];
}

/** What changed records are and name: the stored records say nothing of it yet. */
function touchedBy(group: Group, drafts: readonly Draft[], seeds: UnitSeeds): string[] {
  const named = drafts.flatMap(({ held }) => {
    // parts are among the seeds: a check of a meter has a `part` too, that of the day
    const { blank, decon } = held.state.fields;
    return [held.state.id, held.visit, blank, decon, ...hungBy(group, held), ...blankedBy(group, held)];
  });
  return [...new Set([...named, ...seeds.parts, ...seeds.visits].filter((one) => typeof one === 'string'))];
}

function wellsOf(group: Group, touched: readonly string[]): string[] {
  const wells = touched.map((id) => group.overlay.get(id)).map((held) => held?.state.fields.well);
  return [...new Set(wells.filter((one) => typeof one === 'string'))];
}

/** The reviews of the flags that are asked for, and the flags that are stored, with what the flags are about. */
async function loadDerived(tx: WriteTx, group: Group, units: readonly string[], said: EquipmentSaid): Promise<Held[]> {
  const ids = units.map((unit) => unitStateId(tx.firm, unit));
  const subjects = said.findings.map(({ subject }) => subject);
  await loadMissing(tx, group, [...ids, ...subjects]);
  await loadMissing(
    tx,
    group,
    subjects.map((id) => group.overlay.get(id)?.visit),
  );
  take(group, await flagsOfUnits(tx, units));
  const stored = group.overlay.ofKind('flag').filter((held) => units.includes(String(held.state.fields.unit)));
  const flags = new Set([
    ...stored.map((held) => held.state.id),
    ...said.findings.map((one) => equipmentFlagId(tx.firm, one)),
  ]);
  take(group, await heldUnder(tx, [...flags], ['flag-review']));
  return [...stored, ...ids.flatMap((id) => group.overlay.get(id) ?? [])];
}

/** The units that decided mutations touch, and what is stored around them. */
export interface UnitsTouched {
  readonly affected: readonly string[];
  /** Asked for, and perhaps still on its way. */
  readonly around: Promise<readonly RecordState[]>;
}

function lookedAt({ drafts }: Group): readonly Draft[] {
  return drafts.filter(({ withdrawn, held }) => !withdrawn && held.state.kind !== 'unit-state');
}

/** What is stored around the units that these mutations touch; nothing that is derived from them changes it. */
export async function touchedUnits(tx: WriteTx, group: Group): Promise<UnitsTouched> {
  const drafts = lookedAt(group);
  await loadReferences(tx, group, drafts);
  const own = unitSeeds(tx.firm, drafts, group.overlay);
  const seeds = { ...own, units: [...new Set([...own.units, ...group.gathered.units])] };
  const near = isNothing(seeds) ? [] : await unitsAround(tx, seeds);
  const affected = near.filter(({ depth }) => depth < 2).map(({ unit }) => unit);
  if (affected.length === 0) return { affected, around: Promise.resolve([]) };
  const touched = touchedBy(group, drafts, seeds);
  const all = near.map(({ unit }) => unit);
  const around = unitRecords(tx, all, touched, wellsOf(group, [...touched, ...seeds.visits]));
  // whoever asks for it learns of a fault; if something else fails before, nobody does
  around.catch(() => undefined);
  return { affected, around };
}

async function deriveUnits(tx: WriteTx, group: Group, { affected, around }: UnitsTouched): Promise<Set<string>> {
  const units = new Set(affected);
  if (affected.length === 0) return units;
  const said = equipmentSaid(recordsAround(group.overlay, await around), units);
  const stored = await loadDerived(tx, group, affected, said);
  writeDerived(group, stored, equipmentDerived(tx.firm, said, group.overlay));
  return units;
}

/** Flags of other units that somebody looked at: nothing else of them changes. */
function deriveReviews(group: Group, drafts: readonly Draft[], derived: ReadonlySet<string>): void {
  const reviews = drafts.filter(({ held }) => held.state.kind === 'flag-review');
  const flags = new Set(reviews.map(({ held }) => String(held.state.fields.flag)));
  for (const id of flags) {
    const flag = group.overlay.get(id);
    if (!flag || !isOfEquipment(flag) || derived.has(String(flag.state.fields.unit))) continue;
    writeDerived(group, [flag], [reviewedAgain(flag, group.overlay)]);
  }
}

/**
 * Derives the states of the units that the decided mutations touch, and the flags about them, each unit with those that
 * it shares parts with.
 */
export async function deriveEquipment(tx: WriteTx, group: Group, touched: UnitsTouched): Promise<void> {
  const drafts = lookedAt(group);
  const derived = await deriveUnits(tx, group, touched);
  await deriveEventFlags(tx, group, drafts);
  const flags = [
    ...new Set(
      drafts.filter(({ held }) => held.state.kind === 'flag-review').map(({ held }) => String(held.state.fields.flag)),
    ),
  ];
  if (flags.length > 0) take(group, await heldUnder(tx, flags, ['flag-review']));
  deriveReviews(group, drafts, derived);
}
