import { DEVICE_CLOCK_RULE } from '../rules/flags/device-clock-flag.ts';
import { type ClockDay, clockDaysOfDevices, widenClockDays } from '../store/write/device-clocks.ts';
import { heldById, heldUnder } from '../store/write/load-held.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import { clockDays, clockFlagId } from './derive-clocks.ts';
import type { Group } from './group.ts';

/** The days whose note somebody looked at in this group, or looked at otherwise than before. */
async function reviewedDays(tx: WriteTx, group: Group): Promise<ClockDay[]> {
  const reviews = group.drafts.filter(({ held }) => held.state.kind === 'flag-review');
  const flags = reviews.flatMap(({ held }) => group.overlay.get(String(held.state.fields.flag)) ?? []);
  const notes = flags.filter(({ state }) => state.fields.rule === DEVICE_CLOCK_RULE.code);
  const ids = new Set(notes.map(({ state }) => state.id));
  const days = await clockDaysOfDevices(tx, [...new Set(notes.map(({ state }) => String(state.fields.subject)))]);
  return days.filter((day) => ids.has(clockFlagId(tx.firm, day)));
}

/** What is known of the clocks that this group tells something of, with the devices and the notes about them loaded. */
export async function loadClockDays(tx: WriteTx, group: Group): Promise<ClockDay[]> {
  const shown = await widenClockDays(tx, clockDays(group.fresh));
  const reviewed = await reviewedDays(tx, group);
  return withNotes(tx, group, [...reviewed, ...shown]);
}

/** Every day on which the clock of one of these devices was off, with the devices and the notes about them loaded. */
export async function loadDaysOfDevices(
  tx: WriteTx,
  group: Pick<Group, 'overlay' | 'hashes'>,
  devices: readonly string[],
): Promise<ClockDay[]> {
  return withNotes(tx, group, await clockDaysOfDevices(tx, devices));
}

/** @returns each day once; of those given twice, the last */
async function withNotes(
  tx: WriteTx,
  group: Pick<Group, 'overlay' | 'hashes'>,
  days: readonly ClockDay[],
): Promise<ClockDay[]> {
  const byId = new Map(days.map((day) => [clockFlagId(tx.firm, day), day]));
  if (byId.size === 0) return [];
  const flags = [...byId.keys()];
  const ids = [...flags, ...[...byId.values()].map((day) => day.device)];
  const loaded = [...(await heldById(tx, ids)), ...(await heldUnder(tx, flags, ['flag-review']))];
  for (const held of loaded.filter(({ state }) => !group.overlay.get(state.id))) {
    group.overlay.load(held);
    group.hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
  }
  return [...byId.values()];
}
