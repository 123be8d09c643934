import { randomBytes, randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import type pg from 'pg';
import pino from 'pino';
import { openApp } from '../../src/app.ts';
import { EVERY_ROLE, LABORATORY } from '../../src/doors/authenticate.ts';
import type { Role } from '../../src/protocol/kind.ts';
import { openRecords } from '../../src/store/records.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import { openLane } from '../../src/writes/lane.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { NOON, TestFirm } from '../support/test-firm.ts';
import { type ApiDocument, documentOf } from './api-document.ts';
import { type FirmIds, idsOf } from './firm-ids.ts';
import { plant } from './plant.ts';
import { type Speaker, speaker } from './speaker.ts';

/** The server over a pool, with everything that it logs. */
export interface OpenServer {
  readonly app: FastifyInstance;
  readonly logged: () => string;
  close(): Promise<void>;
}

/** Requests of a test come faster than those of people. */
const UNLIMITED = { requestsPerMinute: 1_000_000 };

export async function openServer(pool: pg.Pool): Promise<OpenServer> {
  const lines: string[] = [];
  const logger = pino({ level: 'trace' }, { write: (line: string) => void lines.push(line) });
  const records = openRecords(pool);
  const now = () => new Date(NOON);
  const lane = openLane({ pool, now, committed: () => undefined });
  const app = await openApp({ pool, records, lane, now }, logger, UNLIMITED);
  await app.ready();
  return { app, logged: () => lines.join(''), close: () => app.close().finally(() => records.close()) };
}

/** A firm with records of every kind, and someone of each role in it. */
export interface Firm {
  readonly firm: TestFirm;
  readonly ids: FirmIds;
  readonly secrets: Readonly<Record<Role, string>>;
}

export interface TwoFirms {
  readonly db: TestDatabase;
  readonly document: ApiDocument;
  /** In every text of every record of the victim, and nowhere else. */
  readonly canary: string;
  readonly victim: Firm;
  readonly attacker: Firm;
  close(): Promise<void>;
}

/** Everybody of a firm, and the laboratory outside of it. */
export const ALL_ROLES: readonly Role[] = [...EVERY_ROLE, ...LABORATORY];

async function tokenOf(
  pool: pg.Pool,
  firm: TestFirm,
  role: Role,
  { label, laboratory = null }: { readonly label: string; readonly laboratory?: string | null },
): Promise<string> {
  const secret = newSecret();
  const device = role === 'crew' ? firm.ids.phone : null;
  const createdAt = new Date(firm.nowMs).toISOString();
  const row = { firm: firm.id, id: randomUUID(), hash: secretHash(secret), label, role, device, laboratory };
  await insertToken(pool, { ...row, createdAt, expiresAt: null });
  return secret;
}

function forEachRole<Value>(make: (role: Role) => Value): Record<Role, Value> {
  return Object.fromEntries(ALL_ROLES.map((role) => [role, make(role)])) as Record<Role, Value>;
}

export function speakersOf(app: FastifyInstance, secrets: Readonly<Record<Role, string>>): Record<Role, Speaker> {
  return forEachRole((role) => speaker(app, role, secrets[role]));
}

/** A firm whose every text is the one given, made through the doors of a server over the pool. */
export async function makeFirm(bypass: pg.Pool, pool: pg.Pool, app: FastifyInstance, text: string): Promise<Firm> {
  const document = await documentOf(app);
  const firm = new TestFirm(pool);
  await firm.setUp();
  const labelled = EVERY_ROLE.map(async (role) => [
    role,
    await tokenOf(pool, firm, role, { label: `${text} ${role}` }),
  ]);
  const own = Object.fromEntries(await Promise.all(labelled)) as Record<Role, string>;
  const speakers = speakersOf(app, own);
  await plant({ firm, document, office: speakers.admin, crew: speakers.crew, text, bypass });
  // of the laboratory that the planted records name
  const planted = (await idsOf(bypass, firm.id)).of('laboratory');
  const laboratory = await tokenOf(pool, firm, 'laboratory', { label: `${text} laboratory`, laboratory: planted });
  return { firm, secrets: { ...own, laboratory }, ids: await idsOf(bypass, firm.id) };
}

/** Two firms in one database: one whose every text is a canary, and one whose people are after it. */
export async function twoFirms(): Promise<TwoFirms> {
  const db = await testDatabase();
  // what it logs while the victim works is no leak, so that it is not the server that is attacked
  const server = await openServer(db.pool);
  const document = await documentOf(server.app);
  // short enough for the shortest text, the initials of a member
  const canary = `zq${randomBytes(3).toString('hex')}`;
  const victim = await makeFirm(db.bypass, db.pool, server.app, canary);
  const attacker = await makeFirm(db.bypass, db.pool, server.app, 'Plain');
  await server.close();
  return { db, document, canary, victim, attacker, close: () => db.drop() };
}
