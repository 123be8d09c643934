import { randomUUID } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import type pg from 'pg';
import pino from 'pino';
import { type AppOptions, openApp } from '../../src/app.ts';
import type { Role } from '../../src/protocol/kind.ts';
import { Doorbell } from '../../src/store/live/doorbell.ts';
import type { StoreLog } from '../../src/store/log.ts';
import { makePool } from '../../src/store/pool.ts';
import { openRecords } from '../../src/store/records.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken, revokeToken } from '../../src/store/write/token-rows.ts';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { LiveReader } from './live-reader.ts';
import { type TestDatabase, testDatabase } from './test-database.ts';
import { TestClient, TestFirm } from './test-firm.ts';
import { testLog } from './test-log.ts';

/** One process of the server, as far as the others on its database can tell. */
export interface LiveServer {
  readonly url: string;
  readonly app: FastifyInstance;
  readonly lane: Lane;
  readonly doorbell: Doorbell;
  close(): Promise<void>;
}

export interface ServerOver {
  readonly config: pg.PoolConfig;
  readonly nowMs: () => number;
  readonly streams?: AppOptions['streams'];
  /** Where a test breaks connections by intent, their loss is no news. */
  readonly log?: StoreLog;
}

export async function liveServer({ config, nowMs, streams = {}, log = testLog }: ServerOver): Promise<LiveServer> {
  const pool = makePool(config, log);
  const records = openRecords(pool);
  const doorbell = new Doorbell({ pool, log });
  const now = () => new Date(nowMs());
  const lane = openLane({ pool, now, committed: doorbell.ring });
  const app = await openApp({ pool, records, lane, now }, pino({ level: 'silent' }), { streams });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = app.server.address() as AddressInfo;
  let closed = false;
  const close = async () => {
    if (closed) return;
    closed = true;
    await app.close();
    await doorbell.close();
    await records.close();
    await pool.end();
  };
  return { url: `http://127.0.0.1:${port}`, app, lane, doorbell, close };
}

/** A firm whose feeds are followed through several processes on one database. */
export class LiveWorld {
  readonly db: TestDatabase;
  readonly firm: TestFirm;
  readonly #servers: LiveServer[] = [];
  readonly #readers: LiveReader[] = [];

  private constructor(db: TestDatabase, firm: TestFirm) {
    this.db = db;
    this.firm = firm;
  }

  static async open(): Promise<LiveWorld> {
    const db = await testDatabase();
    const firm = new TestFirm(db.pool);
    await firm.setUp();
    return new LiveWorld(db, firm);
  }

  get feed(): string {
    return `event:${this.firm.ids.event}`;
  }

  async server(streams: AppOptions['streams'] = {}): Promise<LiveServer> {
    const server = await liveServer({ config: this.db.config, nowMs: () => this.firm.nowMs, streams });
    this.#servers.push(server);
    return server;
  }

  async token(
    role: Role,
    device: string | null = null,
    of = this.firm,
    expiresAt: string | null = null,
  ): Promise<{ id: string; secret: string }> {
    const [id, secret] = [randomUUID(), newSecret()];
    const createdAt = new Date(of.nowMs).toISOString();
    const row = { firm: of.id, id, hash: secretHash(secret), label: role, role, device, createdAt, expiresAt };
    await insertToken(this.db.pool, row);
    return { id, secret };
  }

  async revoke(id: string): Promise<void> {
    await revokeToken(this.db.pool, this.firm.id, id, new Date(this.firm.nowMs).toISOString());
  }

  async read(server: LiveServer, secret: string, query = ''): Promise<LiveReader> {
    const reader = await LiveReader.open(server.url, secret, query);
    this.#readers.push(reader);
    return reader;
  }

  /** Whoever writes through this lane; without one, nobody is told of what it commits. */
  async writer(lane: Lane = this.firm.lane): Promise<TestClient> {
    return new TestClient(await this.firm.actor('admin', null, this.firm.ids.ann), lane);
  }

  /** A record in the feed of the event. @returns where it ends then */
  async write(writer: TestClient): Promise<number> {
    const { ids } = this.firm;
    const [outcome] = await writer.push({
      kind: 'assignment',
      set: { event: ids.event, crew: ids.north, well: ids.deep },
    });
    if (outcome?.outcome !== 'applied' || outcome.seq === undefined) throw new Error(JSON.stringify(outcome));
    return this.tail();
  }

  async tail(feed = this.feed): Promise<number> {
    const query = 'select coalesce(max(seq), 0)::int as tail from ledger where firm = $1 and feed = $2';
    return (await this.db.bypass.query<{ tail: number }>(query, [this.firm.id, feed])).rows[0]?.tail ?? 0;
  }

  /** The processes of the database at which somebody listens. */
  async listening(): Promise<number[]> {
    const query = `select pid from pg_stat_activity where application_name = 'wellround-live' and datname = current_database()`;
    return (await this.db.pool.query<{ pid: number }>(query)).rows.map(({ pid }) => pid);
  }

  /** How many of them listen already, and have looked. */
  async looked(): Promise<number> {
    const query = `select count(*)::int as n from pg_stat_activity where application_name = 'wellround-live'
      and datname = current_database() and state = 'idle' and query = 'commit'`;
    return (await this.db.pool.query<{ n: number }>(query)).rows[0]?.n ?? 0;
  }

  async close(): Promise<void> {
    for (const reader of this.#readers) reader.cut();
    for (const server of this.#servers) await server.close();
    await this.db.drop();
  }
}
