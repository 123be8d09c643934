import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import type { StoreLog } from '../log.ts';
import { type Acquired, acquire } from './acquire.ts';
import { assertMajor, give, inspectCluster, setAside } from './data-folder.ts';
import { prepareEmbeddedRoles } from './embedded-roles.ts';
import { createCluster, SUPERUSER } from './initdb.ts';
import { prepareRun, type RunContext } from './run-context.ts';
import { SOCKET_NUMBER } from './settings.ts';
import { shutDown } from './shut-down.ts';
import { removeSocketFolder } from './socket-folder.ts';

export interface EmbeddedOptions {
  dataDir: string;
  log: StoreLog;
  /** settings of postgresql.conf that replace the built-in ones; tests turn durability off here */
  settings?: Readonly<Record<string, string>>;
}

export type EmbeddedRole = 'owner' | 'app' | 'superuser';

export interface EmbeddedServer {
  connection(role: EmbeddedRole, database: string): pg.ClientConfig;
  /** whether a server that an earlier process left running was taken over */
  adopted: boolean;
  /** the process number of the server now; it changes when the server had to be started again */
  pid(): number;
  stop(): Promise<void>;
}

const roleNames: Readonly<Record<EmbeddedRole, string>> = {
  owner: 'wellround_owner',
  app: 'wellround_app',
  superuser: SUPERUSER,
};

const FIRST_PAUSE_MS = 100;
const LONGEST_PAUSE_MS = 5_000;

async function ensureCluster(run: RunContext, settings: Readonly<Record<string, string>>): Promise<void> {
  const before = await inspectCluster(run.cluster);
  if (before.kind === 'unfinished') await setAside(run.cluster, run.log);
  if (before.kind !== 'ready') await createCluster(run, settings.fsync !== 'off');
  const state = await inspectCluster(run.cluster);
  assertMajor(run.cluster, state.kind === 'ready' ? state.major : 'an unknown version', run.programs.major);
  if (run.account !== undefined) await give(run.cluster, run.account);
}

/** Keeps one server running: notices when it dies, and starts it again. */
class Supervisor {
  readonly run: RunContext;
  readonly settings: Readonly<Record<string, string>>;
  readonly stopping = new AbortController();
  now: Acquired;
  restarting: Promise<void> | undefined;

  constructor(run: RunContext, settings: Readonly<Record<string, string>>, first: Acquired) {
    this.run = run;
    this.settings = settings;
    this.now = first;
    this.watch();
    process.once('exit', this.atExit);
  }

  /** A process that ends without stop() still asks for an orderly shutdown; only a kill -9 leaves an orphan. */
  readonly atExit = (): void => {
    try {
      process.kill(this.now.pid, 'SIGINT');
    } catch {
      // it is gone already
    }
  };

  watch(): void {
    this.now.guard.once('end', () => {
      if (this.stopping.signal.aborted) return;
      this.run.log.error({ pid: this.now.pid }, 'the connection to the embedded database was lost; starting it again');
      this.restarting = this.restart();
    });
  }

  async restart(): Promise<void> {
    for (
      let pauseMs = FIRST_PAUSE_MS;
      !this.stopping.signal.aborted;
      pauseMs = Math.min(pauseMs * 2, LONGEST_PAUSE_MS)
    ) {
      try {
        await sleep(pauseMs, undefined, { signal: this.stopping.signal });
        await this.acquireAgain();
        return;
      } catch (error) {
        if (this.stopping.signal.aborted) return;
        this.run.log.error(
          { error: (error as Error).message, afterPauseMs: pauseMs },
          'the embedded database could not be started again',
        );
      }
    }
  }

  async acquireAgain(): Promise<void> {
    const { socketFolder } = this.now;
    this.now = await acquire(this.run, { settings: this.settings, socketFolder, signal: this.stopping.signal });
    this.watch();
    this.run.log.warn({ pid: this.now.pid }, 'the embedded database answers again');
  }

  async stop(): Promise<void> {
    if (this.stopping.signal.aborted) return;
    this.stopping.abort();
    await this.restarting;
    process.off('exit', this.atExit);
    await shutDown(this.run, this.now.pid);
    await this.now.guard.end().catch(() => undefined);
    await removeSocketFolder(this.now.socketFolder, this.run.account);
  }
}

function facade(supervisor: Supervisor, adopted: boolean): EmbeddedServer {
  return {
    adopted,
    pid: () => supervisor.now.pid,
    connection: (role, database) => ({
      host: supervisor.now.socketFolder,
      port: SOCKET_NUMBER,
      user: roleNames[role],
      database,
      ssl: false,
    }),
    stop: () => supervisor.stop(),
  };
}

export async function startEmbedded(options: EmbeddedOptions): Promise<EmbeddedServer> {
  const settings = options.settings ?? {};
  const run = await prepareRun(options.dataDir, options.log);
  await ensureCluster(run, settings);
  const first = await acquire(run, { settings, socketFolder: undefined, signal: new AbortController().signal });
  const supervisor = new Supervisor(run, settings, first);
  try {
    await prepareEmbeddedRoles(first.guard);
  } catch (error) {
    await supervisor.stop();
    throw error;
  }
  options.log.info({ dataDir: run.dataDir, pid: first.pid, adopted: first.adopted }, 'the embedded database is ready');
  return facade(supervisor, first.adopted);
}
