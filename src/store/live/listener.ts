import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import { clientLike } from '../client-like.ts';
import type { StoreLog } from '../log.ts';
import { Alarm } from './alarm.ts';
import { LIVE_CHANNEL } from './doorbell-text.ts';

const FIRST_PAUSE_MS = 50;
const LONGEST_PAUSE_MS = 2_000;
/** However many ask for a look, or send what nobody understands. */
const LOOKS_APART_MS = 100;
/** A connection that does not answer within it is taken for dead, as one to a host that vanished without a word. */
const ANSWER_PATIENCE_MS = 4_000;

export interface ListenerOptions {
  /** How it connects: as this pool does, on a connection of its own. */
  readonly pool: pg.Pool;
  readonly heard: (payload: string) => void;
  /**
   * Looks at what notifications would have told. Called as soon as the connection listens, so that nothing falls
   * between, and then again and again, on the same connection.
   */
  readonly look: (client: pg.ClientBase) => Promise<void>;
  readonly lookEveryMs: number;
  readonly log: StoreLog;
}

function listeningClient(pool: pg.Pool): pg.Client {
  return clientLike(pool, {
    application_name: 'wellround-live',
    connectionTimeoutMillis: ANSWER_PATIENCE_MS,
    query_timeout: ANSWER_PATIENCE_MS,
    keepAlive: true,
  });
}

/**
 * The one connection on which a process hears of news. It is lost now and then: then it comes back by itself, listens
 * first and looks afterwards.
 */
export class Listener {
  readonly #options: ListenerOptions;
  readonly #ending = new Alarm();
  /** Of the connection that is open. */
  #alarm = new Alarm();
  #running: Promise<void> | null = null;
  #client: pg.Client | null = null;
  #stopped = false;
  #listening = false;
  #failures = 0;

  constructor(options: ListenerOptions) {
    this.#options = options;
  }

  /** Whether it hears what is said now. */
  get listening(): boolean {
    return this.#listening;
  }

  start(): void {
    if (!this.#stopped) this.#running ??= this.#run();
  }

  lookSoon(): void {
    this.#alarm.ring();
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    this.#ending.ring();
    this.#alarm.ring();
    await this.#client?.end().catch(() => undefined);
    await this.#running;
  }

  async #run(): Promise<void> {
    while (!this.#stopped) {
      await this.#session().catch((error: unknown) => this.#lost(error));
      if (this.#stopped) return;
      await this.#ending.pause(Math.min(FIRST_PAUSE_MS * 2 ** (this.#failures - 1), LONGEST_PAUSE_MS));
    }
  }

  #lost(error: unknown): void {
    this.#listening = false;
    this.#failures += 1;
    if (this.#stopped || this.#failures > 1) return;
    const details = { error: error instanceof Error ? error.message : String(error) };
    this.#options.log.warn(details, 'the connection that hears of news was lost; it is opened again');
  }

  async #session(): Promise<void> {
    const client = listeningClient(this.#options.pool);
    const alarm = new Alarm();
    [this.#client, this.#alarm] = [client, alarm];
    let lost: Error | null = null;
    const lose = (error: Error) => {
      lost ??= error;
      alarm.ring();
    };
    client.on('error', lose);
    client.on('end', () => lose(new Error('the database closed the connection')));
    client.on('notification', ({ channel, payload }) => {
      if (channel === LIVE_CHANNEL) this.#options.heard(payload ?? '');
    });
    try {
      await client.connect();
      await client.query(`listen ${LIVE_CHANNEL}`);
      this.#listening = true;
      while (!this.#stopped) {
        await this.#options.look(client);
        this.#failures = 0;
        await sleep(Math.min(LOOKS_APART_MS, this.#options.lookEveryMs));
        await alarm.pause(this.#options.lookEveryMs);
        if (lost !== null) throw lost;
      }
    } finally {
      this.#listening = false;
      this.#client = null;
      await client.end().catch(() => undefined);
    }
  }
}
