import pg from 'pg';
import { SUPERUSER } from './initdb.ts';
import { SOCKET_NUMBER } from './settings.ts';

/** Any constant will do, as long as no other code locks it in the database "postgres". */
const OWNER_LOCK = 7_701_923;

/**
 * One connection that is kept open for as long as this process looks after the server. Its advisory lock says
 * "this server has a keeper": the lock dies with the process, however it dies, so it can never be stale.
 */
export type Guarding =
  | { kind: 'guarded'; client: pg.Client }
  | { kind: 'kept by another'; keeper: Keeper }
  | { kind: 'not answering'; reason: string };

/** The keeper writes its number into its session's name, so that a message can say which process it is. */
export interface Keeper {
  /** 0 when its session ended just now */
  pid: number;
}

const KEEPER_QUERY = `
  select a.application_name as keeper from pg_locks l join pg_stat_activity a on a.pid = l.pid
  where l.locktype = 'advisory' and l.granted and l.classid = 0 and l.objid = $1`;

async function lockOrName(client: pg.Client): Promise<Guarding> {
  const lock = await client.query<{ taken: boolean }>('select pg_try_advisory_lock($1) as taken', [OWNER_LOCK]);
  if (lock.rows[0]?.taken === true) return { kind: 'guarded', client };
  const found = await client.query<{ keeper: string }>(KEEPER_QUERY, [OWNER_LOCK]);
  await client.end();
  return { kind: 'kept by another', keeper: { pid: Number(found.rows[0]?.keeper.split(' ').pop() ?? 0) } };
}

export async function tryToGuard(socketFolder: string): Promise<Guarding> {
  const client = new pg.Client({
    host: socketFolder,
    port: SOCKET_NUMBER,
    user: SUPERUSER,
    database: 'postgres',
    ssl: false,
    options: '-c client_min_messages=warning',
    application_name: `wellround process ${process.pid}`,
    connectionTimeoutMillis: 3_000,
  });
  // a lost connection is reported by "end" as well; without a listener Node would end the process
  client.on('error', () => undefined);
  try {
    await client.connect();
    return await lockOrName(client);
  } catch (error) {
    await client.end().catch(() => undefined);
    return { kind: 'not answering', reason: (error as Error).message };
  }
}
