import { parseArgs } from 'node:util';
import pino from 'pino';
import { ConfigError, readConfig } from './config.ts';
import { openStore, type Store } from './start.ts';
import { type ListedFirm, listFirms } from './store/read/firm-list.ts';
import { type ChangesByKind, deriveAgain } from './writes/derive-again.ts';
import { recompute } from './writes/recompute.ts';
import { setUpFirm } from './writes/set-up-firm.ts';

const HELP = `wellround: sets up the server and looks after it. Stop the server first where it runs its own embedded
database; a PostgreSQL of your own may be in use meanwhile.

  npm run cli -- migrate                 bring the database up to date
  npm run cli -- init --firm "NAME"      enter a firm and print its first administrator token (shown this once)
  npm run cli -- verify                  compare the history hashes of every feed, and every assessment, flag, conflict
                                         and summary, with what they are computed from; name what differs, and then
                                         exit with 1
  npm run cli -- derive-again            after an upgrade with new rules: derive assessments, flags, conflicts and
                                         summaries of every firm anew and write those that differ; start servers of
                                         the new version first; run again, it changes nothing

Settings come from the environment, as for npm start: DATA_DIR, DATABASE_URL, APP_DATABASE_URL, LOG_LEVEL.
`;

/** A command that cannot be run as it was given. */
class UsageError extends Error {}

async function init({ ctx }: Store, name: string | undefined): Promise<void> {
  if (!name) throw new UsageError('init needs --firm "NAME"');
  const { firm, admin } = await setUpFirm(ctx.pool, ctx.lane, name, ctx.now());
  say(`firm  ${firm}`, `token ${admin.secret}`);
}

function say(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(`${line}\n`);
}

async function allFirms({ database }: Store): Promise<ListedFirm[]> {
  const owner = await database.owner();
  return listFirms(owner).finally(() => owner.end());
}

function called({ id, name }: ListedFirm): string {
  return `firm ${id} ${JSON.stringify(name)}`;
}

function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}

const WHAT_NOW =
  'What is derived, derive-again writes anew. Anything else was changed past the server: compare with a backup.';

async function verify(store: Store): Promise<void> {
  const firms = await allFirms(store);
  let found = 0;
  for (const firm of firms) {
    const differences = await recompute(store.ctx.pool, firm.id);
    found += differences.length;
    say(`${called(firm)}: ${differences.length === 0 ? 'sound' : counted(differences.length, 'difference')}`);
    say(...differences.map(({ feed, kind, id, what, detail }) => `  ${what} ${feed} ${kind} ${id}: ${detail}`));
  }
  say(`${counted(firms.length, 'firm')}, ${counted(found, 'difference')}`);
  if (found === 0) return;
  say(WHAT_NOW);
  process.exitCode = 1;
}

function changesText(changes: ChangesByKind): string {
  if (changes.size === 0) return 'nothing differed';
  const each = [...changes].map(
    ([kind, { written, withdrawn }]) => `${kind} ${written} written, ${withdrawn} withdrawn`,
  );
  return each.toSorted().join('; ');
}

async function again(store: Store): Promise<void> {
  const firms = await allFirms(store);
  for (const firm of firms) {
    const changes = await deriveAgain(store.ctx.pool, firm.id, store.ctx.now);
    say(`${called(firm)}: ${changesText(changes)}`);
  }
  say(counted(firms.length, 'firm'));
}

const COMMANDS: Readonly<Record<string, (store: Store, firm: string | undefined) => Promise<void>>> = {
  // the database is brought up to date whenever it is opened
  migrate: async () => undefined,
  init,
  verify,
  'derive-again': again,
};

async function run(name: string | undefined, firm: string | undefined): Promise<void> {
  const command = name !== undefined && Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!command) throw new UsageError(name ? `no command ${name}` : 'no command');
  const config = readConfig(process.env);
  const logger = pino({ level: config.LOG_LEVEL === 'info' ? 'warn' : config.LOG_LEVEL }, pino.destination(2));
  const store = await openStore(config, logger, () => new Date());
  try {
    await command(store, firm);
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
