import { derivedId } from '../derived-id.ts';
import { equipmentFacts } from '../equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../equipment/equipment-records.ts';
import { type EquipmentFinding, equipmentFindings } from '../equipment/faults.ts';
import { type UnitState, unitState } from '../equipment/unit-state.ts';
import type { Held, World } from '../held.ts';
import type { Derived } from './derived.ts';
import { isOfEvent } from './event-derived.ts';
import { flagDerived } from './flag-derived.ts';

/** What the records say of some units. */
export interface EquipmentSaid {
  readonly states: readonly UnitState[];
  readonly findings: readonly EquipmentFinding[];
}

/**
 * The states of these units and what is to be asked about them. Of each unit both follow from its own records, those of
 * the visits that it was in and of the parts that were on it, so that more records beside these change nothing.
 *
 * @param records with all that the units are judged by
 */
export function equipmentSaid(records: EquipmentRecords, units: ReadonlySet<string>): EquipmentSaid {
  const facts = equipmentFacts(records);
  return {
    // of a unit that was voided nobody asks where it is
    states: [...units].flatMap((unit) => (facts.index.units.has(unit) ? (unitState(facts.index, unit) ?? []) : [])),
    findings: equipmentFindings(facts).filter(({ unit }) => units.has(unit)),
  };
}

export function unitStateId(firm: string, unit: string): string {
  return derivedId(firm, 'unit-state', unit);
}

/** One rule may ask of one subject more than once: for each unit, part, day or analyte. */
export function equipmentFlagId(firm: string, { code, subject, of }: EquipmentFinding): string {
  return derivedId(firm, 'flag', code, subject, of);
}

function stateDerived(firm: string, state: UnitState): Derived {
  const { unit, since, because, well } = state;
  const fields = {
    unit,
    state: state.state,
    ...(since === null ? {} : { since }),
    becauseRecord: because.record,
    becauseKind: because.kind,
    sentence: state.sentence,
    ...(well === null ? {} : { well }),
  };
  return { kind: 'unit-state', id: unitStateId(firm, unit), fields, feed: 'firm', parent: unit, visit: null };
}

function findingDerived(firm: string, finding: EquipmentFinding, world: Pick<World, 'get' | 'under'>): Derived[] {
  const { code, subject: about, unit } = finding;
  const subject = world.get(about);
  if (!subject) return [];
  const arose: Held | null = subject.visit === null ? null : (world.get(subject.visit) ?? null);
  const flag = { ...finding, rule: code, standing: 'raised' as const };
  return [flagDerived(firm, flag, { subject, visit: arose, unit, id: equipmentFlagId(firm, finding) }, world)];
}

/**
 * What is said of units as records: each state beside its unit, each flag beside what it is about.
 *
 * @param world has the records that the flags are about, and the reviews of the flags
 */
export function equipmentDerived(
  firm: string,
  { states, findings }: EquipmentSaid,
  world: Pick<World, 'get' | 'under'>,
): readonly Derived[] {
  return [
    ...states.map((state) => stateDerived(firm, state)),
    ...findings.flatMap((finding) => findingDerived(firm, finding, world)),
  ];
}

/** Whether a stored record was derived from equipment, and not from the visit that it may lie in. */
export function isOfEquipment(held: Pick<Held, 'state'>): boolean {
  const { kind, fields } = held.state;
  return kind === 'unit-state' || (kind === 'flag' && typeof fields.unit === 'string') || isOfEvent(held);
}
