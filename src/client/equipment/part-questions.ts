import type { EquipmentIndex } from '../../rules/equipment/equipment-index.ts';
import { momentOf, momentText } from '../../rules/equipment/moment.ts';
import { unitName } from '../../rules/equipment/unit-kind.ts';
import type { EquipmentHere } from './equipment-here.ts';

/** What is put into a unit by one record: a part change, or a step of a decon with its new part. */
function putIn({ device }: EquipmentHere, record: string): { readonly part: string; readonly unit: string } | null {
  const state = device.world.get(record)?.state;
  const { part, unit, action, decon, done } = state?.fields ?? {};
  if (state === undefined || state.voided !== null || typeof part !== 'string') return null;
  if (state.kind === 'part-change') return action === 'installed' ? { part, unit: String(unit) } : null;
  if (state.kind !== 'decon-step' || done !== true) return null;
  return { part, unit: String(device.world.get(String(decon))?.state.fields.unit) };
}

function partName({ parts }: EquipmentIndex, id: string): string {
  const fields = parts.get(id)?.fields;
  return [fields?.type.replaceAll('-', ' ') ?? 'part', fields?.label ?? fields?.lot ?? ''].join(' ').trim();
}

function discarded(all: EquipmentHere, part: string, before: string): string | null {
  const changes = all.facts.index.changesOfPart.get(part) ?? [];
  const gone = changes.find(({ id, fields }) => id !== before && fields.action === 'discarded');
  return gone ? momentText(momentOf(gone, gone.fields.observed.at, gone.fields.observed)) : null;
}

/**
 * What is to be asked of a part at once, while it is in the hand: the rules ask of it only when it goes down a well, and
 * then it is too late to take another.
 */
export function partQuestions(all: EquipmentHere, record: string): readonly string[] {
  const put = putIn(all, record);
  if (put === null) return [];
  const { index } = all.facts;
  const name = partName(index, put.part);
  const gone = discarded(all, put.part, record);
  if (gone !== null)
    return [`The ${name} was discarded on ${gone} by its records. Take a new one, or correct which it is.`];
  const stays = index.staysOfPart.get(put.part) ?? [];
  const before = stays.findLast(({ from }) => from.record !== record);
  const kept = index.parts.get(put.part)?.fields.dedicatedTo;
  const line = kept
    ? [`The ${name} is kept for ${index.wells.get(kept)?.fields.name ?? kept}: it goes into no other well.`]
    : [];
  if (before === undefined) return line;
  const where = unitName(index.units.get(before.unit), before.unit);
  const wet = (index.lines.get(before.unit)?.wet ?? []).some((contact) =>
    index.staysDuring.get(contact)?.includes(before),
  );
  return wet ? [...line, `The ${name} was on ${where} in a well before: it is not new.`] : line;
}
