import { type FieldClient, openClient } from '../../src/client/client.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { type SyncReport, syncOnce } from '../../src/client/sync.ts';
import { uuidV7Maker } from '../../src/client/uuid-v7-maker.ts';
import { Chance } from './chance.ts';
import { PhoneClock, type WorldClock } from './clock.ts';
import { Line } from './line.ts';

export interface PhoneOptions {
  readonly label: string;
  readonly base: string;
  readonly token: string;
  readonly world: WorldClock;
  readonly zone: string;
  readonly seed: number;
  readonly aheadMs?: number;
}

/** A device of the play: a phone of a crew, or a computer of the office. */
export interface Phone {
  readonly label: string;
  readonly token: string;
  readonly client: FieldClient;
  readonly clock: PhoneClock;
  readonly line: Line;
  readonly newId: () => string;
}

/** The clock and the line of a phone, and its chance. */
export function phoneParts({ world, zone, seed, aheadMs = 0 }: PhoneOptions): Pick<Phone, 'clock' | 'line' | 'newId'> {
  const chance = new Chance(seed);
  const clock = new PhoneClock(world, zone, aheadMs);
  const line = new Line(world);
  const newId = uuidV7Maker({ nowMs: () => clock.wallMs(), randomBytes: (count) => chance.bytes(count) });
  return { clock, line, newId };
}

export async function openPhone(options: PhoneOptions): Promise<Phone> {
  const { label, base, token } = options;
  const { clock, line, newId } = phoneParts(options);
  const transport = httpTransport({ base, token, fetch: line.fetch });
  const client = await openClient({ store: memoryStore(), transport, time: clock, newId });
  return { label, token, client, clock, line, newId };
}

/** The sync went through, and the server set nothing aside and refused nothing. */
export function assertGoodSync(label: string, report: SyncReport): void {
  const { problem, outcomes, differing, resets, newIdentities } = report;
  if (problem) throw new Error(`${label} could not sync: ${problem.code}, ${problem.detail}`);
  const bad = outcomes.find(({ outcome }) => outcome === 'set_aside' || outcome === 'refused');
  if (bad) throw new Error(`${label}: the server answered ${JSON.stringify(bad)}`);
  if (differing.length > 0) throw new Error(`${label} holds other records than the server in ${differing.join(', ')}`);
  if (resets.length > 0 || newIdentities > 0) throw new Error(`${label} had to begin again: ${JSON.stringify(resets)}`);
}

export async function syncPhone(phone: Phone): Promise<SyncReport> {
  const report = await syncOnce(phone.client);
  assertGoodSync(phone.label, report);
  return report;
}

/** A sync in which something is meant to be in the way; nothing may be lost by it. */
export async function syncInVain(phone: Phone): Promise<SyncReport> {
  const report = await syncOnce(phone.client);
  if (report.problem === null) throw new Error(`${phone.label} was to be cut off, and its sync went through`);
  return report;
}
