import { type EquipmentFinding, equipmentFindings } from '../../rules/equipment/faults.ts';
import type { Captured } from '../capture.ts';
import type { FieldClient } from '../client.ts';
import { identityOf } from '../context.ts';
import type { PendingHere } from '../preview/records.ts';
import { type DeviceWorld, deviceWorld, layOver } from './device-world.ts';
import { type EquipmentHere, equipmentOf } from './equipment-here.ts';
import { partQuestions } from './part-questions.ts';

/** What the rules about equipment ask because of one capture. Nothing is refused: the record is kept. */
export interface EquipmentQuestions {
  /** To ask at once, while it can still be mended. */
  readonly now: readonly EquipmentFinding[];
  /** For the evening and for the office. */
  readonly later: readonly EquipmentFinding[];
  /** Asked before, and answered by this capture. */
  readonly cleared: readonly EquipmentFinding[];
  /** Of a part that was just put in, before it goes down a well. */
  readonly parts: readonly string[];
  /** All that follows with the capture, for further questions of the same screen. */
  readonly with: EquipmentHere;
}

const ALWAYS: readonly string[] = [
  'pump-set-up',
  'unit-use',
  'decon',
  'decon-step',
  'unit-service',
  'part',
  'part-change',
  'blank',
  'visit',
  'sample',
  'occurrence',
  'sign-out',
];
const WITH_UNIT: Readonly<Record<string, string>> = { reading: 'meter', 'water-level': 'tape', sounding: 'tape' };

/** A meter that is read again and again at one well is told of by its first reading there. */
function isFurtherTouch({ world }: DeviceWorld, { entry, mutation }: PendingHere, field: string): boolean {
  const unit = mutation.set?.[field];
  const parent = entry.kind === 'reading' ? mutation.set?.purge : mutation.set?.visit;
  return world
    .under(String(parent))
    .some(({ state }) => state.id !== entry.id && state.voided === null && state.fields[field] === unit);
}

function bearsOnEquipment(device: DeviceWorld, one: PendingHere): boolean {
  const { entry, mutation } = one;
  if (ALWAYS.includes(entry.kind)) return true;
  const field = WITH_UNIT[entry.kind];
  if (field === undefined) return false;
  // what is changed in a record may be which unit it names, or when
  if (mutation.verb !== 'record') return true;
  return Boolean(mutation.set?.[field]) && !isFurtherTouch(device, one, field);
}

function keyOf({ code, subject, of }: EquipmentFinding): string {
  return `${code} ${subject} ${of}`;
}

function byKeyOf(findings: readonly EquipmentFinding[]): ReadonlyMap<string, EquipmentFinding> {
  return new Map(findings.map((finding) => [keyOf(finding), finding]));
}

function notIn(one: ReadonlyMap<string, EquipmentFinding>, other: ReadonlyMap<string, EquipmentFinding>) {
  return [...one].filter(([key]) => !other.has(key)).map(([, finding]) => finding);
}

/**
 * What one capture makes the rules ask of equipment, before it is sent: all of it is looked at as it stood before and as
 * it stands with it. Null for a record that bears on no equipment.
 */
export async function equipmentQuestions(
  client: FieldClient,
  { id, mutationId }: Captured,
): Promise<EquipmentQuestions | null> {
  const device = await deviceWorld(client);
  const own = (await identityOf(client.context.store)).client;
  const { pending } = device;
  const at = pending.findIndex(({ entry }) => entry.client === own && entry.mutationId === mutationId);
  const captured = pending[at];
  if (captured === undefined) return null;
  layOver(device, pending.slice(0, at));
  if (!bearsOnEquipment(device, captured)) return null;
  const before = byKeyOf(equipmentFindings(equipmentOf(device).facts));
  layOver(device, pending.slice(at));
  const all = equipmentOf(device);
  const after = byKeyOf(equipmentFindings(all.facts));
  const fresh = notIn(after, before);
  return {
    now: fresh.filter(({ addressee }) => addressee === 'now'),
    later: fresh.filter(({ addressee }) => addressee !== 'now'),
    cleared: notIn(before, after),
    parts: partQuestions(all, id),
    with: all,
  };
}
