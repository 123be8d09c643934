import type { ContaminantClass, DeconProtocol } from '../../catalog/decon/decon-protocol.ts';
import { deconProtocol } from '../../catalog/decon/decon-protocols.ts';
import { chooseProtocols } from '../../rules/decon/choose-protocols.ts';
import { type DeconCompleteness, deconCompleteness } from '../../rules/decon/completeness.ts';
import { gearOfUnit } from '../../rules/decon/gear-of-unit.ts';
import { isStainless } from '../../rules/decon/plan-decon.ts';
import { type StepToDo, stepsForGear, stepToDo } from '../../rules/decon/steps-for-unit.ts';
import { live } from '../../rules/equipment/by-key.ts';
import { changeByClock, correctedInstant, deconByClock, stepByClock } from '../../rules/equipment/decon-by-clock.ts';
import type { DeconRecord } from '../../rules/equipment/equipment-records.ts';
import { plansOf } from '../../rules/equipment/plans-of.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { type MayGoAsked, type MayGoHere, mayGoDownHere } from './may-go-down-here.ts';

export interface DeconToDo {
  readonly asked: MayGoHere;
  /** Null where nothing is cleaned by a protocol: what it needs instead stands with `asked`. */
  readonly protocol: DeconProtocol | null;
  /** Of the protocol for this unit, in order, without those that are recorded already. */
  readonly steps: readonly StepToDo[];
  /** How many steps the protocol has for this unit. */
  readonly count: number;
  /** What it is to take away. */
  readonly against: readonly ContaminantClass[];
  /** Begun and not ended: it goes on. */
  readonly open: DeconRecord | null;
  /** Protocols that are advised besides, to be carried out after it. */
  readonly further: readonly DeconProtocol[];
  /** Whether the plan asks for the lots of fluids. */
  readonly areLotsAsked: boolean;
}

/** Begun after its last well, and not ended. */
function openDecon({ records, facts }: EquipmentHere, unit: string): DeconRecord | null {
  const last = facts.index.lines.get(unit)?.decons.at(-1)?.record;
  return last && !last.fields.ended && live(records.decons).includes(last) ? last : null;
}

const NOT_CLEANED: readonly string[] = ['none', 'replace'];
/** What is cleaned off where nobody asks for more: after a clean well, or once more. */
const USUAL = ['organics', 'inorganics'] as const;

function advised(all: EquipmentHere, { decon, unit }: MayGoHere, event: string | undefined): readonly DeconProtocol[] {
  const found = decon.protocols.filter(({ standing }) => standing === 'advised');
  if (found.length > 0) return found.flatMap(({ protocol }) => deconProtocol(protocol) ?? []);
  const type = all.facts.index.units.get(unit.unit)?.fields.type;
  const gear = type && gearOfUnit(type);
  if (!gear || NOT_CLEANED.includes(decon.effort)) return [];
  return chooseProtocols(gear, USUAL, plansOf(all.records)(event).deconProtocols ?? []).advised;
}

function stepsOf(all: EquipmentHere, unit: string, protocol: DeconProtocol): readonly StepToDo[] {
  const fields = all.facts.index.units.get(unit)?.fields;
  const gear = gearOfUnit(fields?.type ?? 'other') ?? 'hand-gear';
  const given = { isStainless: isStainless(fields ?? {}), acetoneIsAnalyte: false };
  return stepsForGear(protocol, gear).map((step) => stepToDo(protocol, step, given));
}

function isRecorded({ records }: EquipmentHere, decon: DeconRecord | null, step: string): boolean {
  return live(records.deconSteps).some(({ fields }) => fields.decon === decon?.id && fields.step === step);
}

/**
 * What is to be done to clean a unit, step by step: by the protocol that is asked for, the one that was begun, or the
 * first that is advised. Null for a unit that is not on this device.
 *
 * @param wanted id of a protocol of the catalog
 */
export function deconToDo(all: EquipmentHere, asked: MayGoAsked, wanted?: string): DeconToDo | null {
  const answer = mayGoDownHere(all, asked);
  if (!answer) return null;
  const begun = openDecon(all, asked.unit);
  const open = begun && (wanted === undefined || begun.fields.protocol === wanted) ? begun : null;
  const [first, ...more] = advised(all, answer, asked.event);
  const protocol = deconProtocol(open?.fields.protocol ?? wanted ?? first?.id ?? '') ?? null;
  const steps = protocol ? stepsOf(all, asked.unit, protocol) : [];
  const served = answer.decon.classes.filter((one) => protocol?.against.includes(one));
  const lots = plansOf(all.records)(asked.event).partLotsRequired ?? [];
  return {
    asked: answer,
    protocol,
    steps: steps.filter(({ step }) => !isRecorded(all, open, step)),
    count: steps.length,
    against: open?.fields.against ?? (served.length > 0 ? served : (protocol?.against ?? [])),
    open,
    further: protocol === first ? more : [],
    areLotsAsked: lots.includes('fluid'),
  };
}

/** What a decon that is recorded here says by its protocol, with all that it lacks; null where it is not here. */
export function deconStanding({ records, facts }: EquipmentHere, decon: string): DeconCompleteness | null {
  const record = live(records.decons).find(({ id }) => id === decon);
  if (!record) return null;
  const steps = live(records.deconSteps).filter(({ fields }) => fields.decon === decon);
  const changes = live(records.partChanges);
  const named = new Set([
    ...steps.flatMap(({ fields }) => fields.part ?? []),
    ...changes.filter(({ fields }) => fields.unit === record.fields.unit).map(({ fields }) => fields.part),
  ]);
  const line = facts.index.lines.get(record.fields.unit);
  const began = line?.decons.find((span) => span.record.id === decon)?.began.ms ?? Number.POSITIVE_INFINITY;
  const next = line?.wet.find(({ from }) => from.ms > began);
  return deconCompleteness({
    decon: deconByClock(record),
    unitType: facts.index.units.get(record.fields.unit)?.fields.type ?? 'other',
    steps: steps.map(stepByClock),
    parts: live(records.parts)
      .filter(({ id }) => named.has(id))
      .map(({ id, fields }) => ({ id, ...fields })),
    partChanges: changes.filter(({ fields }) => named.has(fields.part)).map(changeByClock),
    nextUse: next && correctedInstant(next.from),
    lotsRequired: plansOf(records)(record.fields.event).partLotsRequired ?? [],
  });
}
