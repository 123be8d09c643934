import pino from 'pino';
import { ConfigError, readConfig } from './config.ts';
import { compactDaily } from './retention.ts';
import { noteSetBack } from './set-back-note.ts';
import { openStore, serve } from './start.ts';
import { stopOnSignal } from './stop-on-signal.ts';
import { takeUpHourly } from './upgrade.ts';

function fail(error: unknown): never {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(error instanceof ConfigError ? error.exitCode : 1);
}

async function main(): Promise<void> {
  const config = readConfig(process.env);
  const logger = pino({ level: config.LOG_LEVEL }, pino.destination(2));
  const store = await openStore(config, logger, () => new Date());
  const { app, url } = await noteSetBack(store.database, store.ctx.now(), logger)
    .then(() => serve(store.ctx, config, logger))
    .catch(async (error: unknown) => {
      await store.close();
      throw error;
    });
  const { RETENTION_DAYS: days } = config;
  const { database, ctx } = store;
  const compaction = days === 'off' ? null : compactDaily({ database, days, now: ctx.now, log: logger });
  const upgrade = takeUpHourly({ database, now: ctx.now, log: logger, chance: Math.random });
  stopOnSignal(async () => {
    await app.close();
    await upgrade.close();
    await compaction?.close();
    await store.close();
    process.stdout.write('stopped\n');
  });
  process.stdout.write(`ready ${url}\n`);
}

await main().catch(fail);
