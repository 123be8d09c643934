import { randomBytes, randomUUID } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import pino from 'pino';
import { openApp } from '../../src/app.ts';
import type { Role } from '../../src/protocol/kind.ts';
import { makePool } from '../../src/store/pool.ts';
import { openRecords, type Records } from '../../src/store/records.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import { openLane } from '../../src/writes/lane.ts';
import { inDatabase, withAdmin } from '../support/template.ts';
import { askForTemplate, ownMigrations, type TestDatabase, testDatabase } from '../support/test-database.ts';

const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };

function inOther(config: pg.PoolConfig, database: string): pg.PoolConfig {
  if (config.connectionString === undefined) return { ...config, database };
  const url = new URL(config.connectionString);
  url.pathname = `/${database}`;
  return { ...config, connectionString: url.href };
}

interface Running {
  readonly app: FastifyInstance;
  readonly pool: pg.Pool;
  readonly records: Records;
}

/** A server at one address, whose database can be copied, and which can be put onto an older copy behind its back. */
export class MovableServer {
  readonly #first: TestDatabase;
  readonly #admin: pg.ClientConfig;
  readonly #copies: string[] = [];
  #database: string;
  #port = 0;
  #running: Running | null = null;

  private constructor(first: TestDatabase, admin: pg.ClientConfig) {
    this.#first = first;
    this.#admin = admin;
    this.#database = first.name;
  }

  static async open(): Promise<MovableServer> {
    const first = await testDatabase();
    const { admin } = await askForTemplate(ownMigrations);
    const server = new MovableServer(first, admin);
    await server.start();
    return server;
  }

  get url(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  get pool(): pg.Pool {
    if (!this.#running) throw new Error('the server does not run');
    return this.#running.pool;
  }

  async start(): Promise<void> {
    const pool = makePool(inOther(this.#first.config, this.#database), silent);
    const records = openRecords(pool);
    const now = () => new Date();
    const lane = openLane({ pool, now, committed: () => undefined });
    const app = await openApp({ pool, records, lane, now }, pino({ level: 'silent' }));
    await app.listen({ port: this.#port, host: '127.0.0.1' });
    this.#port = (app.server.address() as AddressInfo).port;
    this.#running = { app, pool, records };
  }

  async stop(): Promise<void> {
    const running = this.#running;
    this.#running = null;
    await running?.app.close();
    await running?.records.close();
    await running?.pool.end();
  }

  /** As a backup of this moment. @returns the name of the copy */
  async copy(): Promise<string> {
    await this.stop();
    const name = `${this.#first.name}_${randomBytes(4).toString('hex')}`;
    await withAdmin(this.#admin, async (client) => {
      const [owner] = (
        await client.query(`select pg_get_userbyid(datdba) as name from pg_database where datname = $1`, [
          this.#database,
        ])
      ).rows;
      await client.query(`create database ${name} template ${this.#database} owner ${owner.name}`);
    });
    this.#copies.push(name);
    await this.start();
    return name;
  }

  /** Goes on from the copy, and says nothing of it. */
  async setBackTo(copy: string): Promise<void> {
    await this.stop();
    this.#database = copy;
    await this.start();
  }

  /** What an administrator of the installation does. */
  async administer(statement: string): Promise<void> {
    const client = new pg.Client(inDatabase(this.#admin, this.#database));
    await client.connect();
    await client.query(statement).finally(() => client.end());
  }

  /** To be called as a copy is made. @returns what lets every client forget what it keeps, up to what the copy holds */
  async durableByNow(): Promise<() => Promise<void>> {
    const client = new pg.Client(inDatabase(this.#admin, this.#database));
    await client.connect();
    const { rows } = await client
      .query<{ id: string; last: string }>('select id, last_mutation as last from client')
      .finally(() => client.end());
    const marks = rows.map(({ id, last }) => `update client set durable = ${last} where id = '${id}'`);
    return () => this.administer(marks.join(';'));
  }

  async token(firm: string, role: Role, device: string | null): Promise<{ id: string; secret: string }> {
    const secret = newSecret();
    const id = randomUUID();
    const row = { firm, id, hash: secretHash(secret), label: role, role, device };
    await insertToken(this.pool, { ...row, createdAt: new Date().toISOString(), expiresAt: null });
    return { id, secret };
  }

  async close(): Promise<void> {
    await this.stop();
    await withAdmin(this.#admin, async (client) => {
      for (const name of this.#copies) await client.query(`drop database if exists ${name} with (force)`);
    });
    await this.#first.drop();
  }
}
