import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import pino from 'pino';
import { openApp } from '../../src/app.ts';
import type { Role } from '../../src/protocol/kind.ts';
import { openRecords } from '../../src/store/records.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import { type TestDatabase, testDatabase } from './test-database.ts';
import { TestFirm } from './test-firm.ts';

/** The whole server over a fresh database with a firm in it. */
export interface TestApp {
  readonly db: TestDatabase;
  readonly firm: TestFirm;
  readonly app: FastifyInstance;
  /** A token of the firm (or of another) for a role. */
  token(role: Role, device?: string | null, firm?: TestFirm): Promise<string>;
  close(): Promise<void>;
}

export async function testApp(): Promise<TestApp> {
  const db = await testDatabase();
  const firm = new TestFirm(db.pool);
  await firm.setUp();
  return serverOver(db, firm);
}

/** A server over a database that has its firm already. @param lane another write door than the firm's */
export async function serverOver(db: TestDatabase, firm: TestFirm, lane = firm.lane): Promise<TestApp> {
  const now = () => new Date(firm.nowMs);
  const logger = pino({ level: process.env.TEST_LOG ?? 'silent' });
  const records = openRecords(db.pool);
  const app = await openApp({ pool: db.pool, records, lane, now }, logger);
  await app.ready();
  return {
    db,
    firm,
    app,
    async token(role, device = null, of = firm) {
      const secret = newSecret();
      const createdAt = new Date(of.nowMs).toISOString();
      const row = { firm: of.id, id: randomUUID(), hash: secretHash(secret), label: role, role, device };
      await insertToken(db.pool, { ...row, createdAt, expiresAt: null });
      return secret;
    },
    async close() {
      await app.close();
      await records.close();
      await db.drop();
    },
  };
}
