import { startEmbedded } from '../../../src/store/embedded/supervisor.ts';
import { careless, dataFolders } from '../../support/data-folders.ts';
import { makeRoles, makeTemplate, withAdmin } from '../../support/template.ts';
import { databaseFrom, ownMigrations, type TestDatabase } from '../../support/test-database.ts';
import { quietLog } from '../../support/test-log.ts';

/** A PostgreSQL that belongs to one test file and may be killed: no other file works on it. */
export interface OwnPostgres {
  /** The process that owns all others; another one after it was killed. */
  pid(): number;
  database(): Promise<TestDatabase>;
  stop(): Promise<void>;
}

/** Only a loss of power may eat what was committed; every kill leaves it there. */
const settings = { ...careless, max_connections: '150' };

export async function ownPostgres(): Promise<OwnPostgres> {
  const folders = dataFolders();
  const server = await startEmbedded({ dataDir: await folders.make(), log: quietLog, settings });
  const admin = server.connection('superuser', 'postgres');
  await withAdmin(admin, makeRoles);
  const stop = () => server.stop().finally(() => folders.removeAll());
  const template = await makeTemplate({ engine: 'embedded', admin, direct: true, stop }, ownMigrations);
  return {
    pid: () => server.pid(),
    database: () => databaseFrom({ admin, direct: true, template }, 4, quietLog),
    stop,
  };
}
