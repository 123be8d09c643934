import { applyChanges, changesFor, noContents } from '../../src/client/contents.ts';
import { LocalError } from '../../src/client/local-error.ts';
import type { Mutation } from '../../src/protocol/mutation.ts';
import { faultOf } from '../../src/store/fault.ts';
import { compact } from '../../src/writes/compact.ts';
import { act } from './actions.ts';
import { FIRM, IDS } from './base-firm.ts';
import { type Capture, captureKey, DAMAGED } from './history.ts';
import { Died, type SimPhone } from './sim-phone.ts';
import type { World } from './world.ts';

const GAPS_MS = [50, 2_000, 30_000, 120_000, 3_600_000] as const;

function on(world: World): SimPhone[] {
  return world.living.filter((phone) => phone.isOn);
}

async function doSomething(world: World): Promise<void> {
  const phone = world.chance.maybe(on(world));
  const { chance, features, told } = world;
  if (phone) await act({ phone, chance, features, told });
}

async function wake(world: World): Promise<void> {
  for (const phone of world.living.filter((one) => !one.isOn && world.chance.yes(0.5))) await phone.start(IDS.ann);
}

function kill(world: World): void {
  const phone = world.chance.maybe(on(world));
  if (world.chance.yes(0.4)) phone?.die();
  else phone?.dieAtCommit(world.chance.between(1, 5));
}

/** The database is put back to the last backup of it; what phones were told since is on the phones alone. */
export function setBack(world: World, how = world.features.setBack): void {
  const { server, chance } = world;
  server.setBack(world.backup);
  if (how === 'announced') {
    server.tables.installation = { ...server.tables.installation, epoch: chance.uuid(), began: true };
  }
  excuseLost(world);
}

/** Whether the server has it as its phone was told, so far as the store of that phone can say. */
function isKept({ features, phones, server }: World, { phone, key, told }: Capture): boolean {
  if (told === null || features.setBack === 'never') return told !== null;
  const entries = [...(phones[phone]?.contents.entries.values() ?? [])];
  const entry = entries.find(({ line }) => captureKey(line) === key);
  // a phone lets go of what is in a backup
  if (!entry) return true;
  return server.tables.receipts.get(`${entry.client}:${entry.mutationId}`)?.outcome === JSON.stringify(told);
}

/** What nobody can say again lasts as long as the data does. */
export function excuseLost(world: World): void {
  for (const capture of world.history.all().filter((one) => one.uncopied && one.excuse === null)) {
    if (!isKept(world, capture)) capture.excuse = 'captured after the copy was made';
  }
}

function damage(world: World): void {
  const phone = world.chance.maybe(on(world).filter((one) => !one.syncing));
  const records = phone && world.chance.maybe([...phone.contents.records.values()]);
  const stored = records && world.chance.maybe([...records.values()]);
  if (!phone || !records || !stored) return;
  phone.damaged = true;
  const what = world.chance.below(3);
  if (what === 0) records.delete(stored.record.id);
  else if (what === 1) records.clear();
  else {
    const record = { ...stored.record, fields: { ...stored.record.fields, remark: DAMAGED } };
    records.set(record.id, { ...stored, record });
  }
}

function keepPhone(world: World): void {
  const phone = world.chance.pick(world.phones.slice(1));
  if (!phone.drowned)
    world.phoneBackups.set(phone.at, { contents: phone.backup(), captures: world.history.captures.size });
}

/** A phone goes on from an older copy of itself: what was captured since and not handed in is gone with the old one. */
async function restorePhone(world: World): Promise<void> {
  const [at, kept] = [...world.phoneBackups][0] ?? [];
  const phone = at === undefined ? undefined : world.phones[at];
  if (!phone || !kept || phone.drowned) return;
  world.phoneBackups.delete(phone.at);
  phone.die();
  for (const capture of world.history.all().slice(kept.captures)) {
    if (capture.phone === phone.at && capture.told === null) capture.excuse = 'lost with the phone as it was';
  }
  phone.contents = noContents();
  applyChanges(phone.contents, changesFor(kept.contents));
  await phone.start(IDS.ann);
}

function crewsOn(world: World): SimPhone[] {
  return on(world).filter(({ at }) => at > 0);
}

/** Whether a line cites what others wrote since the day began: a revision that a server which is set back forgets. */
function citesNews({ contents }: SimPhone): boolean {
  return [...contents.entries.values()].some(({ line }) => {
    const { base } = JSON.parse(line) as Mutation;
    return base !== undefined && 'rev' in base && base.rev > 1;
  });
}

/** Where the data is set back, whose line cites what may be forgotten, and whoever of the others hands it in. */
function someWhoWorkTogether(world: World): SimPhone[] {
  const crews = crewsOn(world);
  const phone = crews.find(citesNews);
  const partner = world.chance.maybe(crews.filter((one) => one !== phone));
  return phone && partner ? [phone, partner] : [];
}

/** A partner takes a copy of the outbox, and later the phone falls into the well. */
async function drown(world: World): Promise<void> {
  const [phone, partner] = world.features.setBack === 'never' ? crewsOn(world) : someWhoWorkTogether(world);
  if (!phone || !partner || world.drowning) return;
  try {
    await partner.client.importOutbox(await phone.client.exportOutbox());
  } catch (error) {
    if (error instanceof Died) return;
    throw error;
  }
  world.drowning = true;
  const before = world.history.captures.size;
  world.timeline.after(world.chance.below(600_000), () => {
    phone.drowned = true;
    phone.die();
    for (const [at, capture] of world.history.all().entries()) {
      if (capture.phone !== phone.at) continue;
      capture.orphaned = true;
      capture.uncopied = at >= before;
    }
    if (world.features.setBack !== 'never' && world.chance.yes(0.5)) setBack(world);
    excuseLost(world);
  });
}

/** A partner takes a copy of the outbox of a phone whose battery is flat; charged again, it hands in the same itself. */
async function lend(world: World): Promise<void> {
  const crews = crewsOn(world);
  const phone = world.chance.maybe(crews);
  const partner = world.chance.maybe(crews.filter((one) => one !== phone));
  if (!phone || !partner) return;
  try {
    await partner.client.importOutbox(await phone.client.exportOutbox());
  } catch (error) {
    // what is carried of two phones on one copy may differ under one number: nothing is taken then
    if (error instanceof Died || (error instanceof LocalError && error.code === 'copy_differs')) return;
    throw error;
  }
  phone.die();
}

async function clone(world: World): Promise<void> {
  const phone = world.chance.maybe(world.living.filter(({ at }) => at > 0));
  if (!phone || world.hasClone) return;
  await world.clone(phone).start(IDS.ann);
}

const RETENTIONS_MS = [0, 30_000, 600_000, 7_200_000] as const;

/** A step that cannot be carried through is tried again on another day. */
async function compactSome({ server, chance, timeline }: World): Promise<void> {
  const before = new Date(timeline.nowMs - chance.pick(RETENTIONS_MS));
  try {
    await compact(server.pool, FIRM, { before, now: () => new Date(timeline.nowMs) });
  } catch (error) {
    if (faultOf(error) !== 'transient') throw error;
  }
}

/** What befalls the machines. */
async function befall(world: World): Promise<void> {
  for (let tried = 0; tried < world.features.haste; tried++) await befallOnce(world);
  await wake(world);
}

async function befallOnce(world: World): Promise<void> {
  const { chance, features, server } = world;
  if (features.deaths && chance.yes(0.15)) kill(world);
  if (features.backups && chance.yes(0.15)) world.noteBackup();
  if (features.setBack !== 'never' && chance.yes(0.12)) setBack(world);
  if (features.damage && chance.yes(0.2)) damage(world);
  if (features.restoredPhone && chance.yes(0.2)) keepPhone(world);
  if (features.restoredPhone && chance.yes(0.15)) await restorePhone(world);
  if (features.drowned && chance.yes(0.2)) await drown(world);
  if (features.compacts && chance.yes(0.3)) await compactSome(world);
  if (features.lent && chance.yes(0.2)) await lend(world);
  if (features.cloned && chance.yes(0.2)) await clone(world);
  if (chance.yes(0.05)) server.restart(chance.below(server.processes.length));
}

/** A day of work with everything that goes wrong in it. */
export async function play(world: World): Promise<void> {
  const { timeline, chance, features } = world;
  for (const phone of world.phones) phone.sync();
  await timeline.until(timeline.nowMs + 60_000);
  for (let step = 0; step < features.steps; step++) {
    timeline.after(chance.pick(GAPS_MS), async () => {
      const acts = chance.yes(0.6);
      if (acts) await doSomething(world);
      if (!acts || features.begun) chance.maybe(on(world))?.sync();
      await befall(world);
    });
    await timeline.until(timeline.nowMs + chance.pick(GAPS_MS));
  }
}
