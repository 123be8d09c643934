import type pg from 'pg';
import { LIMITS } from '../../../src/protocol/limits.ts';
import type { Actor } from '../../../src/writes/batch.ts';
import { type Lane, openLane } from '../../../src/writes/lane.ts';
import { FIRM, tokenId } from '../base-firm.ts';
import type { Chance } from '../chance.ts';
import { type Asked, askDoor, type DoorContext, type Said } from './door.ts';
import { type CommitFate, modelPool, type PoolSeams } from './pool.ts';
import { Tables } from './tables.ts';

/** Where a planted bug gets into the server. */
export interface ServerSeams {
  readonly around?: PoolSeams['around'];
  readonly door?: (next: typeof askDoor) => typeof askDoor;
  readonly lane?: (next: Lane, server: ModelServer) => Lane;
}

export interface Process {
  readonly at: number;
  lane: Lane;
  readonly now: () => string;
}

export interface ServerOptions {
  readonly chance: Chance;
  readonly trueMs: () => number;
  /** How far the clock of each process is off. */
  readonly skewsMs: readonly number[];
  readonly seams?: ServerSeams;
  /** Probability that a COMMIT fails or is not heard of, while there are faults. */
  readonly commitFaults?: number;
  /** Rows of a page at most. */
  readonly pageRows?: number;
}

/** Processes of the server on one set of tables. */
export class ModelServer {
  tables: Tables;
  readonly pool: pg.Pool;
  readonly processes: Process[];
  /** Counts what was committed, and each time that the tables were set back. */
  commits = 0;
  setBacks = 0;
  commitFaults: number;
  fault: (error: unknown) => void = (error) => {
    throw error;
  };
  readonly #options: ServerOptions;

  constructor(tables: Tables, options: ServerOptions) {
    this.tables = tables;
    this.#options = options;
    this.commitFaults = options.commitFaults ?? 0;
    const around = options.seams?.around;
    this.pool = modelPool(() => this.tables, {
      fateOfCommit: () => this.#fate(),
      committed: () => {
        this.commits += 1;
      },
      ...(around ? { around } : {}),
    });
    this.processes = options.skewsMs.map((skewMs, at) => this.#start(at, skewMs));
  }

  /** A process that ends forgets what it remembered. */
  restart(at: number): void {
    const process = this.processes[at];
    if (process) process.lane = this.#lane(process.now);
  }

  async ask(at: number, actor: Actor, asked: Asked): Promise<Said> {
    const process = this.processes[at % this.processes.length];
    if (!process) throw new Error('a server has at least one process');
    const { pageRows = LIMITS.feedPageRows } = this.#options;
    const context: DoorContext = { pool: this.pool, lane: process.lane, now: process.now, pageRows, fault: this.fault };
    const door = this.#options.seams?.door?.(askDoor) ?? askDoor;
    return door(context, actor, asked);
  }

  setBack(to: Tables): void {
    this.tables = to.copy();
    this.setBacks += 1;
    this.commits += 1;
    for (const { at } of this.processes) this.restart(at);
  }

  #start(at: number, skewMs: number): Process {
    const now = () => new Date(this.#options.trueMs() + skewMs).toISOString();
    return { at, now, lane: this.#lane(now) };
  }

  #lane(now: () => string): Lane {
    const lane = openLane({ pool: this.pool, now: () => new Date(now()), committed: () => undefined });
    return this.#options.seams?.lane?.(lane, this) ?? lane;
  }

  #fate(): CommitFate {
    const { chance } = this.#options;
    if (this.commitFaults === 0 || !chance.yes(this.commitFaults)) return 'done';
    return chance.yes(0.5) ? 'refused' : 'unheard';
  }
}

export function actorOf(role: Actor['role'], device: string | null, at: number, person: string): Actor {
  return { firm: FIRM, token: tokenId(at), role, device, person, revoked: false };
}

export function emptyTables(chance: Chance): Tables {
  return new Tables({ epoch: chance.uuid(), cursorKey: Buffer.from(chance.bytes(32)) });
}
