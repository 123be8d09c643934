import { BenchFirm, type Phone } from './bench-firm.ts';
import { type BenchDatabase, type BenchPostgres, startPostgres } from './bench-postgres.ts';
import { type Child, startChild } from './child.ts';
import type { Cleanup } from './cleanup.ts';
import { type Meter, meterOf } from './meter.ts';
import { BareWriter } from './sides/bare-writer.ts';
import { RawTable } from './sides/raw-upsert.ts';

export const CLIENTS = 16;

/** How much is done in a round. */
export interface Size {
  readonly isQuick: boolean;
  readonly rounds: number;
  /** Batches of 100 that each client pushes. */
  readonly batches: number;
  /** Single mutations that each client pushes, one after the other. */
  readonly singles: number;
  /** How often the feed is read from nothing. */
  readonly bootstraps: number;
  /** How often it is asked how an event stands. */
  readonly statuses: number;
  /** How often the lists and clocks of an event are asked for. */
  readonly lists: number;
  /** Coolers whose custody records are drawn. */
  readonly records: number;
  /** Crews whose labels are drawn. */
  readonly labels: number;
}

const OFTEN = { batches: 12, singles: 150, bootstraps: 3, statuses: 60, lists: 5, records: 10, labels: 3 };
const SELDOM = { batches: 2, singles: 12, bootstraps: 1, statuses: 20, lists: 1, records: 3, labels: 1 };

export const FULL: Size = { isQuick: false, rounds: 5, ...OFTEN };
export const QUICK: Size = { isQuick: true, rounds: 3, ...SELDOM };

/** Everything that the rows of the table are measured on; made once. */
export interface Ground {
  readonly postgres: BenchPostgres;
  readonly database: BenchDatabase;
  readonly server: Child;
  readonly firm: BenchFirm;
  readonly phones: readonly Phone[];
  readonly bare: BareWriter;
  readonly bareDatabase: BenchDatabase;
  readonly raw: RawTable;
  readonly meter: Meter;
  readonly size: Size;
}

export function serverEnvironment(database: BenchDatabase): Record<string, string> {
  const { ownerUrl, appUrl } = database;
  return { PORT: '0', HOST: '127.0.0.1', DATABASE_URL: ownerUrl, APP_DATABASE_URL: appUrl, LOG_LEVEL: 'warn' };
}

export async function prepareGround(cleanup: Cleanup, size: Size): Promise<Ground> {
  const postgres = await startPostgres(cleanup);
  const database = await postgres.create('bench_server', true);
  const bareDatabase = await postgres.create('bench_bare', true);
  const rawDatabase = await postgres.create('bench_raw', false);
  const raw = new RawTable(rawDatabase);
  await raw.create();
  const server = await startChild(cleanup, 'src/main.ts', serverEnvironment(database));
  const firm = await BenchFirm.setUp(database.pool);
  const phones = await firm.phones(CLIENTS);
  const bare = new BareWriter(database, bareDatabase, firm.firm.id);
  await bare.copyTokens();
  const meter = meterOf([process.pid, postgres.pid, server.pid]);
  return { meter, postgres, database, server, firm, phones, bare, bareDatabase, raw, size };
}

/** Where the feed of the event ends. */
export async function tailOf({ postgres, database, firm }: Ground): Promise<number> {
  const text = `select max(seq)::int as tail from ledger where firm = '${firm.firm.id}' and feed = '${firm.feed}'`;
  const [row] = await postgres.query(text, database.name);
  return Number(row?.tail);
}
