import type net from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import { type LiveServer, liveServer } from '../../support/live-world.ts';
import type { Counts } from '../../support/relay.ts';
import type { TestDatabase } from '../../support/test-database.ts';
import { quietLog } from '../../support/test-log.ts';
import { RealServer } from '../real-server.ts';
import { DatabaseLine } from './database-line.ts';
import { WrongClock } from './wrong-clock.ts';

/** A process of the server with its own way to the database. */
export interface Api {
  readonly database: DatabaseLine;
  /** Null while nothing runs. */
  readonly port: number | null;
  /** Ends at once where it runs, and with the start that is under way where there is one. */
  start(): Promise<void>;
  /** What it said at last where it came to an end that nobody brought about. */
  fallen(): string | null;
  kill(): Promise<void>;
  pause(): void;
  goOn(): void;
  /** Its clock is wrong by so much from now on, and stays so when it is started anew. */
  stepClock(errorMs: number): void;
  stop(): Promise<void>;
}

function upstreamOf({ host = 'localhost', port = 5432 }: pg.PoolConfig): net.NetConnectOpts {
  return host.startsWith('/') ? { path: `${host}/.s.PGSQL.${port}` } : { host, port };
}

export function lineTo(db: TestDatabase, counts: Counts): Promise<DatabaseLine> {
  const { connectionString } = db.config;
  if (connectionString === undefined) return DatabaseLine.open(() => upstreamOf(db.config), counts);
  const { hostname: host, port } = new URL(connectionString);
  return DatabaseLine.open(() => ({ host, port: Number(port || 5432) }), counts);
}

/** How the application connects over this way. */
export function configThrough({ relay }: DatabaseLine, { config }: TestDatabase): pg.PoolConfig {
  const { connectionString, ...rest } = config;
  if (connectionString === undefined) return { ...rest, host: '127.0.0.1', port: relay.port };
  const address = new URL(connectionString);
  address.host = `127.0.0.1:${relay.port}`;
  return { ...rest, connectionString: address.href };
}

const AGAIN_MS = 200;
const PATIENCE_MS = 60_000;

/** As `npm start` runs it, on the folder of nobody and an address of a database. */
export class ApiProcess implements Api {
  readonly database: DatabaseLine;
  readonly #environment: NodeJS.ProcessEnv;
  readonly #clock = new WrongClock();
  #running: RealServer | null = null;
  #starting: Promise<void> | null = null;
  #closed = false;

  constructor(database: DatabaseLine, db: TestDatabase, durable: string) {
    const address = (role: string | undefined) => `postgresql://${role}@127.0.0.1:${database.relay.port}/${db.name}`;
    const owner = new URL(db.databaseUrl).username;
    this.database = database;
    this.#environment = {
      DATABASE_URL: address(owner),
      APP_DATABASE_URL: address(db.config.user),
      DURABLE: durable,
      RETENTION_DAYS: 'off',
      LOG_LEVEL: 'fatal',
      ...this.#clock.environment,
    };
  }

  get port(): number | null {
    return this.#running?.port ?? null;
  }

  start(): Promise<void> {
    if (this.#running) return Promise.resolve();
    this.#starting ??= this.#start().finally(() => {
      this.#starting = null;
    });
    return this.#starting;
  }

  /** Tries again while the database cannot be reached, as whatever supervises a process does. */
  async #start(): Promise<void> {
    for (const untilMs = performance.now() + PATIENCE_MS; !this.#closed; await sleep(AGAIN_MS)) {
      try {
        this.#running = await RealServer.start('/nowhere', 0, this.#environment);
        if (this.#closed) await this.kill();
        return;
      } catch (error) {
        if (performance.now() > untilMs) throw error;
      }
    }
  }

  fallen(): string | null {
    return this.#running && !this.#running.runs ? this.#running.log().slice(-600) : null;
  }

  async kill(): Promise<void> {
    const running = this.#running;
    this.#running = null;
    await running?.kill();
  }

  pause(): void {
    this.#running?.pause();
  }

  goOn(): void {
    this.#running?.goOn();
  }

  stepClock(errorMs: number): void {
    this.#clock.set(errorMs);
  }

  async stop(): Promise<void> {
    this.#closed = true;
    this.goOn();
    await this.#starting;
    await this.kill();
    await this.database.relay.close();
    this.#clock.remove();
  }
}

/** The same within the process of the test, where nothing is killed: it starts at once. */
export class ApiHere implements Api {
  readonly database: DatabaseLine;
  readonly #db: TestDatabase;
  #running: LiveServer | null = null;
  #errorMs = 0;

  constructor(database: DatabaseLine, db: TestDatabase) {
    this.database = database;
    this.#db = db;
  }

  get port(): number | null {
    return this.#running === null ? null : Number(new URL(this.#running.url).port);
  }

  async start(): Promise<void> {
    const config = configThrough(this.database, this.#db);
    this.#running = await liveServer({ config, nowMs: () => Date.now() + this.#errorMs, log: quietLog });
  }

  fallen(): null {
    return null;
  }

  async kill(): Promise<void> {
    throw new Error('a server within the test cannot be killed');
  }

  pause(): void {
    throw new Error('a server within the test cannot be paused');
  }

  goOn(): void {}

  stepClock(errorMs: number): void {
    this.#errorMs = errorMs;
  }

  async stop(): Promise<void> {
    await this.#running?.close();
    this.#running = null;
    await this.database.relay.close();
  }
}
