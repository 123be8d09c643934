import { randomUUID } from 'node:crypto';
import type pg from 'pg';
import { v7 } from 'uuid';
import type { Role } from '../protocol/kind.ts';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { enrolmentHash, newEnrolmentCode, readEnrolmentCode } from '../store/enrolment-secret.ts';
import { secretHash } from '../store/tokens.ts';
import { type Claimed, claimEnrolment, insertEnrolment } from '../store/write/enrolment-rows.ts';
import { insertTokenOnce } from '../store/write/token-rows.ts';
import type { Batch } from './batch.ts';
import type { Lane } from './lane.ts';

/** For whom a code is: a device that is on record, or one that will be, of a crew and perhaps a person. */
export interface EnrolmentWish {
  readonly role: Role;
  readonly label: string;
  readonly device: string | null;
  readonly crew: string | null;
  readonly person: string | null;
  readonly minutes: number;
  /** The token of who makes it; null for who has the server itself. */
  readonly madeBy: string | null;
}

export interface MadeCode {
  readonly id: string;
  /** Shown this once. */
  readonly code: string;
}

/** A device record is made for a crew or a person that comes without one; a code of no device is for a screen or an office. */
function needsDevice({ device, crew, person }: EnrolmentWish): boolean {
  return device === null && (crew !== null || person !== null);
}

export async function makeEnrolmentCode(
  pool: pg.Pool,
  firm: string,
  wish: EnrolmentWish,
  now: Date,
): Promise<MadeCode> {
  const code = newEnrolmentCode();
  const hash = enrolmentHash(readEnrolmentCode(code) ?? code);
  const newDevice = needsDevice(wish);
  const { role, label, crew, person, madeBy, minutes } = wish;
  const device = newDevice ? v7() : wish.device;
  const expiresAt = new Date(now.getTime() + minutes * 60_000).toISOString();
  const id = v7();
  const who = { role, label, device, newDevice, crew, person, madeBy };
  await insertEnrolment(pool, { firm, id, hash, ...who, madeAt: now.toISOString(), expiresAt, token: randomUUID() });
  return { id, code };
}

/** What a phone hands in. It makes the secret of its token itself, so that it can ask again where the answer is lost. */
export interface Enrolling {
  readonly code: string;
  readonly secret: string;
  /** Default: as the office called it. */
  readonly label?: string | undefined;
}

export interface Enrolled {
  readonly token: string;
  readonly role: Role;
  readonly device: string | null;
}

/** Through the write door, in the name of who made the code; its one mutation is known again by the id of the code. */
function deviceBatch({ firm, id, device, crew, person, madeBy, usedLabel }: Claimed): Batch {
  const set = { label: usedLabel, ...(crew === null ? {} : { crew }), ...(person === null ? {} : { person }) };
  const text = JSON.stringify({ mutationId: 1, verb: 'record', kind: 'device', id: device, set });
  return {
    actor: { firm, token: madeBy ?? id, role: 'admin', device: null, person: null, revoked: false },
    client: id,
    first: 1,
    lines: [{ bytes: Buffer.from(text), text }],
    schemaVersion: SCHEMA_VERSION,
    sent: null,
    roundTripMs: 0,
    unsent: null,
    oneShot: true,
    carried: false,
  };
}

async function recordDevice(lane: Lane, claimed: Claimed): Promise<void> {
  if (!claimed.newDevice) return;
  const answer = await lane(deviceBatch(claimed));
  const [outcome] = answer.status === 'answered' ? answer.outcomes : [];
  if (outcome?.includes('"outcome":"applied"')) return;
  throw new Error(`the device of the code ${claimed.id} was not recorded: ${outcome ?? JSON.stringify(answer)}`);
}

/**
 * Gives a phone its token for a code: once. The code is taken first, by one statement, then the device is recorded, then
 * the token; where the server ends in between, the phone asks again with the same secret and the rest is done.
 *
 * @returns null where the code is not taken, whatever the reason
 */
export async function enrol(
  ctx: { readonly pool: pg.Pool; readonly lane: Lane; readonly now: () => Date },
  { code, secret, label }: Enrolling,
): Promise<Enrolled | null> {
  const read = readEnrolmentCode(code);
  if (read === null) return null;
  const hash = secretHash(secret);
  const claim = { codeHash: enrolmentHash(read), secretHash: hash, label: label ?? null, now: ctx.now().toISOString() };
  const claimed = await claimEnrolment(ctx.pool, claim);
  if (!claimed) return null;
  await recordDevice(ctx.lane, claimed);
  const { firm, token: id, role, device, usedLabel, usedAt } = claimed;
  const row = { firm, id, hash, label: usedLabel, role, device, createdAt: usedAt, expiresAt: null };
  return (await insertTokenOnce(ctx.pool, row)) ? { token: id, role, device } : null;
}
