import { IDS } from './base-firm.ts';
import type { SimPhone } from './sim-phone.ts';
import type { World } from './world.ts';

/** So many rounds of syncs after the last fault are enough for everything to be quiet. */
export const MOST_ROUNDS = 8;

/** Whether the newest sync of a phone brought nothing, to it or by it: what it handed in for a lost phone is news too. */
export function isQuiet(world: World, phone: SimPhone): boolean {
  const report = world.reports.get(phone.at);
  if (!report || report.problem !== null) return false;
  const { pushed, pulled, replayed, resets, unsent, carried } = report;
  const forOthers = carried.pushed + carried.renumbered + carried.unanswered;
  return pushed + pulled + replayed + resets.length + unsent.count + forOthers === 0;
}

async function round(world: World): Promise<boolean> {
  world.reports.clear();
  for (const phone of world.living) phone.sync();
  await world.timeline.empty();
  return world.living.every((phone) => isQuiet(world, phone));
}

async function dismissAll(phone: SimPhone): Promise<void> {
  for (const { client, mutationId } of await phone.client.troubles()) await phone.client.dismiss(client, mutationId);
}

/** Once a backup was noted, nothing more has to be kept on a phone. */
async function emptyOutboxes(world: World): Promise<void> {
  for (const phone of world.living) await dismissAll(phone);
  world.timeline.nowMs += 3_600_000;
  world.noteBackup();
  for (let rounds = 0; rounds < 2; rounds++) await round(world);
  for (const phone of world.living) {
    const left = keptLines(phone);
    if (left > 0)
      world.findings.add('nothing wedges', `the outbox of phone ${phone.at} keeps ${left} lines that are safe`);
  }
}

/** Lines of a client id that was given up stay until the server has named a line of the new one as safe. */
function keptLines({ contents }: SimPhone): number {
  const { identity, entries, carried } = contents;
  const own = [...entries.values()].filter(({ client }) => client === identity?.client || (identity?.durable ?? 0) > 0);
  return own.length + carried.size;
}

/**
 * The faults stop, nobody writes anything more, and everything must become quiet.
 *
 * @returns how many rounds that took
 */
export async function heal(world: World): Promise<number> {
  world.network.faults = 0;
  world.network.unheard = 0;
  world.server.commitFaults = 0;
  await world.timeline.empty();
  for (const phone of world.phones) phone.dieAtCommit(0);
  for (const phone of world.living.filter((one) => !one.isOn)) await phone.start(IDS.ann);
  for (let rounds = 1; rounds <= MOST_ROUNDS; rounds++) {
    if (!(await round(world))) continue;
    // rows are counted on every second pull: what was damaged in quiet is found by the next two
    if (world.features.damage) for (let more = 0; more < 2; more++) await round(world);
    if (world.seed % 4 === 0 || world.features.backups) await emptyOutboxes(world);
    return rounds;
  }
  const loud = world.living.filter((phone) => !isQuiet(world, phone));
  const said = loud.map(({ at }) => `${at}: ${JSON.stringify(world.reports.get(at))}`);
  world.findings.add('nothing wedges', `not quiet after ${MOST_ROUNDS} rounds: phone ${said.join('; ').slice(0, 900)}`);
  return MOST_ROUNDS;
}
