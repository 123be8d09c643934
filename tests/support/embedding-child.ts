import { openDatabase } from '../../src/store/connections.ts';

/**
 * A process that embeds a database, for tests that kill it. It says one JSON line for each thing that happened:
 * ready or failed, then every row number whose commit was acknowledged; "stop" on its input closes it in order.
 */
const say = (what: object): void => void process.stdout.write(`${JSON.stringify(what)}\n`);
const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };

async function main(dataDir: string): Promise<void> {
  const database = await openDatabase({ dataDir, log: silent });
  const owner = await database.owner();
  const { rows } = await owner.query('select pid from pg_stat_activity where pid = pg_backend_pid()');
  await owner.query('create table if not exists acked (n bigint primary key)');
  await owner.query('grant select, insert on acked to wellround_app');
  const top = await owner.query<{ top: number }>('select coalesce(max(n), 0) as top from acked');
  await owner.end();
  let stopping = false;
  process.stdin.once('data', () => (stopping = true));
  say({ ready: process.pid, backends: rows.length });
  for (let n = (top.rows[0]?.top ?? 0) + 1; !stopping; n += 1) {
    await database.pool.query('insert into acked (n) values ($1)', [n]);
    say({ acked: n });
  }
  await database.close();
  process.exit(0);
}

main(process.argv[2] ?? '').catch((error) => {
  say({ failed: error instanceof Error ? error.message : String(error) });
  process.exit(1);
});
