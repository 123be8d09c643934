import { parseArgs } from 'node:util';
import pino from 'pino';
import { ConfigError, readConfig } from './config.ts';
import { openStore, type Store } from './start.ts';
import { setUpFirm } from './writes/set-up-firm.ts';

const HELP = `wellround: sets up the server. Stop the server first where it runs its own embedded database.

  npm run cli -- migrate                 bring the database up to date
  npm run cli -- init --firm "NAME"      enter a firm and print its first administrator token (shown this once)

Settings come from the environment, as for npm start: DATA_DIR, DATABASE_URL, APP_DATABASE_URL, LOG_LEVEL.
`;

/** A command that cannot be run as it was given. */
class UsageError extends Error {}

async function init(store: Store, name: string | undefined): Promise<void> {
  if (!name) throw new UsageError('init needs --firm "NAME"');
  const { firm, admin } = await setUpFirm(store.ctx.pool, store.ctx.lane, name, store.ctx.now());
  process.stdout.write(`firm  ${firm}\ntoken ${admin.secret}\n`);
}

async function run(command: string | undefined, firm: string | undefined): Promise<void> {
  if (command !== 'init' && command !== 'migrate')
    throw new UsageError(command ? `no command ${command}` : 'no command');
  const config = readConfig(process.env);
  const logger = pino({ level: config.LOG_LEVEL === 'info' ? 'warn' : config.LOG_LEVEL }, pino.destination(2));
  const store = await openStore(config, logger, () => new Date());
  try {
    if (command === 'init') await init(store, firm);
  } finally {
    await store.close();
  }
}

function exitCode(error: unknown): number {
  if (error instanceof ConfigError) return error.exitCode;
  return error instanceof UsageError ? 2 : 1;
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { firm: { type: 'string' }, help: { type: 'boolean', short: 'h' } },
  });
  if (values.help) process.stdout.write(HELP);
  else await run(positionals[0], values.firm);
}

await main().catch((error: unknown) => {
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(`${message}\n${error instanceof UsageError ? `\n${HELP}` : ''}`);
  process.exitCode = exitCode(error);
});
