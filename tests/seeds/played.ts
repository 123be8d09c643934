import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import pino from 'pino';
import { type Played, play, startClock } from '../../seeds/play/play.ts';
import { type EventNews, eventNews } from '../../seeds/report/event-news.ts';
import { type DemoServer, openDemoServer } from '../../seeds/server/demo-server.ts';
import { readConfig } from '../../src/config.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

/** A state of a record as the ledger has it, oldest first within a feed. */
export type Told = RecordState<Readonly<Record<string, unknown>>>;

/** The play of the demo against a server in this process, over a test database. */
export interface PlayedOnce extends Played {
  readonly db: TestDatabase;
  readonly server: DemoServer;
  readonly news: EventNews;
  readonly said: readonly string[];
  /** Everything that was ever told of a kind, withdrawn derived records left out. */
  told(kind: string): Promise<Told[]>;
  /** The newest states of a kind, as the coordinator's computer has them. */
  now(kind: string): Promise<Told[]>;
  close(): Promise<void>;
}

function serverConfig(db: TestDatabase, folder: string) {
  const app = db.appDatabaseUrl === undefined ? {} : { APP_DATABASE_URL: db.appDatabaseUrl };
  return readConfig({ PORT: '0', DATA_DIR: folder, DATABASE_URL: db.databaseUrl, ...app });
}

export async function playOnce(): Promise<PlayedOnce> {
  const db = await testDatabase();
  const folder = await mkdtemp(path.join(os.tmpdir(), 'wellround-play-'));
  const logger = pino({ level: process.env.TEST_LOG ?? 'silent' });
  const server = await openDemoServer(serverConfig(db, folder), logger, startClock());
  const said: string[] = [];
  const played = await play(server, (_at, who, what) => said.push(`${who}: ${what}`));
  const { entered } = played;
  const news = await eventNews(server.base, entered.coordinatorToken, entered.event, entered.desk);
  return {
    ...played,
    db,
    server,
    news,
    said,
    async told(kind) {
      const { rows } = await db.bypass.query<{ state: Told }>(
        'select state from ledger where firm = $1 and kind = $2 and state is not null order by feed, seq',
        [entered.firm, kind],
      );
      return rows.map(({ state }) => state);
    },
    async now(kind) {
      return (await entered.desk.client.all(kind)).map(({ record }) => record);
    },
    async close() {
      await played.world.crews['West crew'].phones[0].putDown();
      await server.close();
      await db.drop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
