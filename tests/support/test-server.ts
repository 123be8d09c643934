import { chmod, mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type pg from 'pg';
import { startEmbedded } from '../../src/store/embedded/supervisor.ts';
import { testLog } from './test-log.ts';

/** A PostgreSQL server for one run of the tests. */
export interface TestServer {
  engine: 'container' | 'given' | 'embedded';
  /** an account that may create databases and roles */
  admin: pg.ClientConfig;
  /** can one connect as any role by its name alone (or must one switch to it)? */
  direct: boolean;
  stop(): Promise<void>;
}

/** Testcontainers says by an error that no engine answers; that is the ordinary case here, not a failure. */
async function container(): Promise<TestServer | undefined> {
  const { getContainerRuntimeClient } = await import('testcontainers');
  const engine = await getContainerRuntimeClient().catch(() => undefined);
  if (engine === undefined) return undefined;
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
  try {
    const started = await new PostgreSqlContainer('postgres:16-alpine')
      .withTmpFs({ '/var/lib/postgresql/data': 'rw' })
      .withCommand(['postgres', '-c', 'fsync=off', '-c', 'max_connections=200'])
      .start();
    const admin = { connectionString: started.getConnectionUri() };
    return { engine: 'container', admin, direct: false, stop: async () => void (await started.stop()) };
  } catch (error) {
    testLog.warn({ error: (error as Error).message }, 'a container engine answers but could not run PostgreSQL');
    return undefined;
  }
}

function given(): TestServer | undefined {
  const connectionString = process.env.DATABASE_URL;
  if (!connectionString) return undefined;
  return { engine: 'given', admin: { connectionString }, direct: false, stop: async () => undefined };
}

/** A crash of the machine may eat these databases: nobody will miss them, and creating them is 4 times as fast. */
const careless = { fsync: 'off', synchronous_commit: 'off', full_page_writes: 'off', max_connections: '200' };

async function embedded(): Promise<TestServer> {
  const dataDir = await mkdtemp(path.join(os.tmpdir(), 'wellround-tests-'));
  await chmod(dataDir, 0o711);
  const remove = () => rm(dataDir, { recursive: true, force: true });
  try {
    const server = await startEmbedded({ dataDir, log: testLog, settings: careless });
    const admin = server.connection('superuser', 'postgres');
    return { engine: 'embedded', admin, direct: true, stop: () => server.stop().finally(remove) };
  } catch (error) {
    await remove();
    throw error;
  }
}

export async function startTestServer(): Promise<TestServer> {
  return (await container()) ?? given() ?? (await embedded());
}
