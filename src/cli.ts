import { parseArgs } from 'node:util';
import pino from 'pino';
import { backup } from './commands/backup.ts';
import { type Command, type Given, UsageError, withNewStore } from './commands/command.ts';
import { compactNow } from './commands/compact.ts';
import { again } from './commands/derive-again.ts';
import { doctor } from './commands/doctor.ts';
import { enrolmentCode } from './commands/enrolment-code.ts';
import { init } from './commands/init.ts';
import { newEpoch } from './commands/new-epoch.ts';
import { restore } from './commands/restore.ts';
import { verify } from './commands/verify.ts';
import { ConfigError, readConfig } from './config.ts';

const HELP = `wellround: sets up the server and looks after it. Stop the server first where it runs its own embedded
database, but for backup and doctor; a PostgreSQL of your own may be in use meanwhile.

  npm run cli -- migrate                 bring the database up to date
  npm run cli -- init --firm "NAME"      enter a firm and print its first administrator token (shown this once); refused
                                         where a firm of that name is there, unless --again asks for another
  npm run cli -- enrolment-code --firm "NAME" [DEVICE]
                                         print a code with which a phone gets its token: of the device, or for a role
                                         of no device (admin if none is named, coordinator, dashboard)
  npm run cli -- verify                  compare the history hashes of every feed, and every assessment, flag, conflict
                                         and summary, with what they are computed from, and the end of every feed with
                                         what phones were told; name what differs, and then exit with 1
  npm run cli -- derive-again            after an upgrade with new rules: derive assessments, flags, conflicts and
                                         summaries of every firm anew and write those that differ; start servers of
                                         the new version first; run again, it changes nothing
  npm run cli -- compact                 drop from the feeds what left them more than RETENTION_DAYS ago, as the server
                                         does once a day; the ledger keeps everything
  npm run cli -- backup FILE             write everything into a new file, also while the server runs; once it is safe on
                                         the disk, phones forget what is in it. Nothing else moves that mark, so keep
                                         the newest file where the machine's end is not its end
  npm run cli -- restore FILE            fill an empty database from a backup of this or an older release, under a new
                                         epoch: phones begin their feeds anew and say again what they keep
  npm run cli -- new-epoch               after data was set back by something else (a dump, a snapshot of a disk, a
                                         replica that lagged): the same for the phones
  npm run cli -- doctor                  say what is wrong or worrying and what to do, change nothing; exit with 1 where
                                         there is something

Settings come from the environment, as for npm start: DATA_DIR, DATABASE_URL, APP_DATABASE_URL, RETENTION_DAYS,
LOG_LEVEL. With DURABLE=replicated (a commit is on two machines at once, as with synchronous_commit and a standby) the
server lets phones forget what is committed, backup or not.
`;

const COMMANDS: Readonly<Record<string, Command>> = {
  // the database is brought up to date whenever it is opened
  migrate: (given) => withNewStore(given, async () => undefined),
  init,
  'enrolment-code': enrolmentCode,
  verify,
  'derive-again': again,
  compact: compactNow,
  backup,
  restore,
  'new-epoch': newEpoch,
  doctor,
};

async function run(name: string | undefined, rest: readonly string[], options: Given['options']): Promise<void> {
  const command = name !== undefined && Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) throw new UsageError(name ? `no command ${name}` : 'no command');
  const config = readConfig(process.env);
  const logger = pino({ level: config.LOG_LEVEL === 'info' ? 'warn' : config.LOG_LEVEL }, pino.destination(2));
  await command({ config, logger, options, rest, now: () => new Date() });
}

function exitCode(error: unknown): number {
  if (error instanceof ConfigError) return error.exitCode;
  return error instanceof UsageError ? 2 : 1;
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { firm: { type: 'string' }, again: { type: 'boolean' }, help: { type: 'boolean', short: 'h' } },
  });
  if (values.help) process.stdout.write(HELP);
  else await run(positionals[0], positionals.slice(1), values);
}

await main().catch((error: unknown) => {
  const message = error instanceof Error ? error.message : String(error);
  process.stderr.write(`${message}\n${error instanceof UsageError ? `\n${HELP}` : ''}`);
  process.exitCode = exitCode(error);
});
