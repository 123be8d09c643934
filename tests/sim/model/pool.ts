import pg from 'pg';
import { COOLER_STATEMENTS } from './cooler-statements.ts';
import { EQUIPMENT_STATEMENTS } from './equipment-statements.ts';
import { HELD_STATEMENTS } from './held-statements.ts';
import { READ_STATEMENTS } from './read-statements.ts';
import type { Statement } from './statement.ts';
import type { Tables } from './tables.ts';
import { upsertTyped, WRITE_STATEMENTS } from './write-statements.ts';

/** How a COMMIT ends: done, refused by the database, or done without anybody hearing of it. */
export type CommitFate = 'done' | 'refused' | 'unheard';

export interface PoolSeams {
  /** Called for each COMMIT of a write. */
  readonly fateOfCommit: () => CommitFate;
  /** May change what a statement gives; a harness that plants bugs comes in here. */
  readonly around?: (
    name: string,
    tables: Tables,
    values: readonly unknown[],
    run: () => readonly object[],
  ) => readonly object[];
  /** Called with each write that was committed. */
  readonly committed?: () => void;
}

const STATEMENTS: Readonly<Record<string, Statement>> = {
  ...HELD_STATEMENTS,
  ...COOLER_STATEMENTS,
  ...EQUIPMENT_STATEMENTS,
  ...WRITE_STATEMENTS,
  ...READ_STATEMENTS,
};

function statementNamed(name: string): Statement {
  const statement = name.startsWith('typed-') ? upsertTyped : STATEMENTS[name];
  if (statement) return statement;
  throw new Error(`the model of the tables has no statement ${name}: add it under tests/sim/model`);
}

/** A note of a pull makes its client known, and says what it has seen. */
function notePull(tables: Tables, [, id, token, , , seenAt]: readonly unknown[]): void {
  const client = String(id);
  const known = tables.clients.get(client) ?? { id: client, token: null, lastMutation: 0, durable: 0, seenAt: null };
  // no two tokens of a world are of one device
  if (known.token !== null && known.token !== token) return;
  const newer = seenAt !== null && (known.seenAt === null || String(seenAt) > known.seenAt);
  const seen = newer ? String(seenAt) : known.seenAt;
  tables.put(tables.clients, client, { ...known, token: String(token), seenAt: seen });
}

function serialization(): Error {
  const error = new pg.DatabaseError('could not serialize access', 0, 'error');
  error.code = '40001';
  return error;
}

interface Query {
  readonly name: string;
  readonly text: string;
  readonly values: readonly unknown[];
}

class ModelClient {
  readonly #tables: Tables;
  readonly #seams: PoolSeams;
  #failed = false;
  #writes = false;

  constructor(tables: Tables, seams: PoolSeams) {
    this.#tables = tables;
    this.#seams = seams;
  }

  release(): void {
    // nothing is pooled
  }

  async query(query: string | Query, values: readonly unknown[] = []) {
    if (typeof query !== 'string') return this.#run(query);
    if (query.startsWith('begin')) return this.#begin(query);
    if (query === 'commit') return this.#commit();
    if (query === 'rollback') return this.#rollback();
    if (query.startsWith('insert into client as known')) notePull(this.#tables, values);
    else if (!query.startsWith('select set_config')) throw new Error(`the model does not know: ${query.slice(0, 60)}`);
    return { rows: [], rowCount: 1, command: 'OK' };
  }

  #begin(text: string) {
    this.#writes = text.includes('pg_advisory_xact_lock');
    if (this.#writes) this.#tables.begin();
    return { rows: [], rowCount: 0, command: 'BEGIN' };
  }

  #run({ name, text, values }: Query) {
    if (this.#failed) throw new Error('current transaction is aborted');
    try {
      const statement = statementNamed(name);
      const run = () => statement(this.#tables, values, text);
      const rows = this.#seams.around?.(name, this.#tables, values, run) ?? run();
      return { rows, rowCount: rows.length, command: 'OK' };
    } catch (error) {
      this.#failed = true;
      throw error;
    }
  }

  #rollback() {
    if (this.#writes) this.#tables.rollback();
    return { rows: [], rowCount: 0, command: 'ROLLBACK' };
  }

  #commit() {
    if (!this.#writes) return { rows: [], rowCount: 0, command: 'COMMIT' };
    if (this.#failed) return this.#rollback();
    const fate = this.#seams.fateOfCommit();
    if (fate === 'refused') throw serialization();
    this.#tables.commit();
    this.#seams.committed?.();
    if (fate === 'unheard')
      throw Object.assign(new Error('Connection terminated unexpectedly'), { code: 'ECONNRESET' });
    return { rows: [], rowCount: 0, command: 'COMMIT' };
  }
}

/**
 * A pool whose database is the tables in memory: the statements of the store are answered by their names. Everything
 * above the store is the code of the project; only the tables are a model.
 */
export function modelPool(tables: () => Tables, seams: PoolSeams): pg.Pool {
  const connect = async () => new ModelClient(tables(), seams);
  return { connect } as unknown as pg.Pool;
}
