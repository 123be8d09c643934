import type pg from 'pg';
import { tableCatalog } from '../../src/store/backup/table-catalog.ts';
import { TYPED_TABLES } from '../../src/store/tables.ts';
import type { TestDatabase } from '../support/test-database.ts';

export const TYPED = Object.values(TYPED_TABLES).map(({ table }) => table);

/** The tables of a firm as they were, of which somebody with every right may put some back. */
export class EarlierTables {
  readonly #owner: pg.Client;
  readonly #firm: string;
  /** Parents first. */
  readonly #names: readonly string[];

  private constructor(owner: pg.Client, firm: string, names: readonly string[]) {
    this.#owner = owner;
    this.#firm = firm;
    this.#names = names;
  }

  static async of(db: TestDatabase, firm: string): Promise<EarlierTables> {
    const owner = await db.owner();
    await owner.query(`select set_config('wellround.firm', $1, false)`, [firm]);
    const names = (await tableCatalog(owner)).filter(({ ofFirm }) => ofFirm).map(({ name }) => name);
    for (const name of names) {
      await owner.query(`create temp table earlier_${name} as select * from "${name}" where firm = '${firm}'`);
    }
    return new EarlierTables(owner, firm, names);
  }

  async putBack(chosen: readonly string[]): Promise<void> {
    const names = this.#names.filter((name) => chosen.includes(name));
    await this.past(async (owner) => {
      for (const name of names.toReversed()) await owner.query(`delete from "${name}" where firm = $1`, [this.#firm]);
      for (const name of names) await owner.query(`insert into "${name}" select * from earlier_${name}`);
    });
  }

  /** Work that the triggers of the ledger and the receipts would refuse. */
  async past(work: (owner: pg.Client) => Promise<void>): Promise<void> {
    const triggers = (verb: string) =>
      `alter table ledger ${verb} trigger ledger_append_only; alter table receipt ${verb} trigger receipt_append_only`;
    await this.#owner.query('begin');
    await this.#owner.query(triggers('disable'));
    await work(this.#owner);
    await this.#owner.query(triggers('enable'));
    await this.#owner.query('commit');
  }

  end(): Promise<void> {
    return this.#owner.end();
  }
}
