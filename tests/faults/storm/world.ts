import { setTimeout as sleep } from 'node:timers/promises';
import { newSecret, secretHash } from '../../../src/store/tokens.ts';
import { insertToken } from '../../../src/store/write/token-rows.ts';
import type { Actor } from '../../../src/writes/batch.ts';
import { openLane } from '../../../src/writes/lane.ts';
import { deviceId, ENTERED_BY, enterFirm, FIRM, IDS, tokenId } from '../../sim/base-firm.ts';
import { Chance } from '../../sim/chance.ts';
import type { Told } from '../../sim/doing.ts';
import { CALM, type Features } from '../../sim/features.ts';
import { Findings } from '../../sim/violation.ts';
import { Counts } from '../../support/relay.ts';
import type { TestDatabase } from '../../support/test-database.ts';
import { type Api, ApiHere, ApiProcess, lineTo } from './api-process.ts';
import { Heard } from './heard.ts';
import { PhoneLine } from './phone-line.ts';
import { StormPhone, type StormPhoneOptions } from './storm-phone.ts';

export interface StormOptions {
  readonly seed: number;
  readonly db: TestDatabase;
  readonly phones: number;
  readonly processes: number;
  /** Processes of the system, or servers within the process of the test. */
  readonly where: 'own' | 'here';
  readonly features?: Partial<Features>;
  /** `replicated`: what is committed is safe, and outboxes become empty to the last line. */
  readonly durable?: 'backup' | 'replicated';
  readonly plant?: (at: number) => Pick<StormPhoneOptions, 'seams'>;
}

/** What people do in a storm: everything that the simulation knows and that takes no lie of the data. */
const BUSY: Partial<Features> = { voids: true, rehomes: true, claims: true, resolves: true, poison: true, waits: true };
const DEVICES = 12;
/** So long after the last fault every queue is empty. */
export const HEALED_WITHIN_MS = 30_000;
const LOOK_MS = 100;

async function tokenFor(db: TestDatabase, id: string, { role, device }: Pick<Actor, 'role' | 'device'>) {
  const secret = newSecret();
  const createdAt = new Date().toISOString();
  const row = { firm: FIRM, id, hash: secretHash(secret), label: role, role, device, createdAt, expiresAt: null };
  await insertToken(db.pool, row);
  return secret;
}

/** Phones of two crews and of the office, each over a line that fails, before processes on one database. */
export class StormWorld {
  readonly options: StormOptions;
  readonly features: Features;
  readonly chance: Chance;
  readonly counts = new Counts();
  readonly findings = new Findings();
  readonly history = new Heard(this.findings);
  readonly told: Told = { visits: [], purges: [], values: 0 };
  readonly apis: Api[] = [];
  readonly phones: StormPhone[] = [];
  /** How long it took until everything was quiet, each time. */
  readonly healedInMs: number[] = [];
  #working: Promise<unknown> | null = null;
  #extra = 0;

  private constructor(options: StormOptions) {
    this.options = options;
    this.chance = new Chance(options.seed);
    const { phones, processes, features } = options;
    this.features = { ...CALM, ...BUSY, phones, processes, steps: 0, ...features };
  }

  static async open(options: StormOptions): Promise<StormWorld> {
    const world = new StormWorld(options);
    const { db, where, processes, durable = 'backup', phones } = options;
    await tokenFor(db, ENTERED_BY.token, ENTERED_BY);
    await enterFirm(openLane({ pool: db.pool, now: () => new Date(), committed: () => undefined }), DEVICES);
    for (let left = processes; left > 0; left--) {
      const line = await lineTo(db, world.counts);
      world.apis.push(where === 'here' ? new ApiHere(line, db) : new ApiProcess(line, db, durable));
    }
    await Promise.all(world.apis.map((api) => api.start()));
    for (let at = 0; at < phones; at++) world.phones.push(await world.#phone(at));
    for (const phone of world.phones) await phone.start();
    return world;
  }

  /** Phone 0 is the office's and follows everything; the others are of two crews. */
  async #phone(at: number): Promise<StormPhone> {
    const { db, plant } = this.options;
    const actor: Actor =
      at === 0
        ? { firm: FIRM, token: '', role: 'coordinator', device: null, person: IDS.ann, revoked: false }
        : { firm: FIRM, token: '', role: 'crew', device: deviceId(at), person: IDS.bob, revoked: false };
    const secret = await tokenFor(db, tokenId(at), actor);
    const { findings, history, features, told, counts, chance } = this;
    const line = await PhoneLine.open({ chance: chance.fork(), counts, upstream: () => this.#upstream() });
    const own = { at, secret, line, actor: { ...actor, token: secret }, chance: chance.fork() };
    return new StormPhone({ ...own, history, findings, features, told, ...plant?.(at) });
  }

  /** Any process that runs, as behind a distributor of connections. */
  #upstream(): { host: string; port: number } | null {
    const port = this.chance.maybe(this.apis.flatMap((api) => api.port ?? []));
    return port === undefined ? null : { host: '127.0.0.1', port };
  }

  /** More readers than phones: tokens of a dashboard. */
  async readers(count: number): Promise<string[]> {
    const secrets: string[] = [];
    for (let left = count; left > 0; left--) {
      this.#extra += 1;
      secrets.push(await tokenFor(this.options.db, tokenId(1_000 + this.#extra), { role: 'dashboard', device: null }));
    }
    return secrets;
  }

  url(): string {
    const to = this.#upstream();
    if (to === null) throw new Error('no process runs');
    return `http://${to.host}:${to.port}`;
  }

  follow(): void {
    for (const phone of this.phones) phone.follow();
  }

  /** Everybody works until `rest`. */
  work(pauseMs = 60): void {
    for (const phone of this.phones) phone.wake();
    this.#working = Promise.all(this.phones.map((phone) => phone.work(pauseMs)));
  }

  async rest(): Promise<void> {
    for (const phone of this.phones) phone.rest();
    await this.#working;
    this.#working = null;
  }

  /** Sessions of the application that were forgotten in a transaction, wait for a lock, or have that of a firm. */
  async leftOver(): Promise<string[]> {
    const { pool, name } = this.options.db;
    // as the application itself: of the sessions of others one does not see what they do
    const query = `select concat_ws(' ', pid, application_name, state, wait_event_type, query) as text
      from pg_stat_activity as session where datname = $1 and usename = current_user
      and (state like 'idle in transaction%' or wait_event_type = 'Lock'
        or exists (select from pg_locks where pg_locks.pid = session.pid and locktype = 'advisory'))`;
    const { rows } = await pool.query<{ text: string }>(query, [name]);
    return rows.map(({ text }) => text);
  }

  /** The faults end; nobody writes anything more, and everything must become quiet. */
  async heal(withinMs = HEALED_WITHIN_MS): Promise<void> {
    for (const api of this.apis) {
      const fallen = api.fallen();
      if (fallen !== null) this.findings.add('nothing wedges', `a process ended by itself: ${fallen}`);
      api.goOn();
      api.database.heal();
    }
    for (const phone of this.phones) {
      phone.line.faults = 0;
      phone.line.relay.heal();
      phone.sim.dieAtCommit(0);
    }
    await Promise.all(this.apis.map((api) => api.start()));
    const beganMs = performance.now();
    await this.rest();
    let loud = await this.#loud();
    while (loud.length > 0 && performance.now() - beganMs < withinMs) {
      await sleep(LOOK_MS);
      loud = await this.#loud();
    }
    this.healedInMs.push(Math.round(performance.now() - beganMs));
    if (loud.length > 0) this.findings.add('nothing wedges', `not quiet after ${withinMs} ms: ${loud.join('; ')}`);
  }

  /** Every phone syncs as it would; what is not quiet yet, in words. */
  async #loud(): Promise<string[]> {
    await Promise.all(this.phones.map((phone) => phone.sync()));
    const loud = this.phones.filter((phone) => !phone.isQuiet);
    const said = loud.map(({ sim, report }) => `phone ${sim.at}: ${JSON.stringify(report).slice(0, 300)}`);
    if (said.length > 0) return said;
    try {
      return [...(await this.#untold()), ...(await this.leftOver())];
    } catch (error) {
      return [`the database does not answer: ${String(error)}`];
    }
  }

  /** Followers that were not told where a feed of theirs ends. */
  async #untold(): Promise<string[]> {
    const { rows } = await this.options.db.bypass.query<{ feed: string; tail: number }>(
      'select feed, max(seq)::int as tail from ledger where firm = $1 group by feed',
      [FIRM],
    );
    return this.phones.flatMap(({ follower, sim }) => {
      if (!follower) return [];
      const missed = rows.filter(({ feed, tail }) => sim.contents.feeds.has(feed) && follower.told.get(feed) !== tail);
      return missed.map(
        ({ feed, tail }) => `phone ${sim.at} was told ${follower.told.get(feed)} of ${feed}, not ${tail}`,
      );
    });
  }

  async close(): Promise<void> {
    for (const phone of this.phones) {
      phone.rest();
      phone.follower?.stop();
      phone.sim.die();
    }
    for (const phone of this.phones) await phone.line.relay.close();
    await Promise.all(this.apis.map((api) => api.stop()));
    await this.options.db.drop();
  }
}
