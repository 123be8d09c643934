import type pg from 'pg';
import { recompute } from '../../src/writes/recompute.ts';
import type { Day } from '../rules/equipment/equipment-day.ts';
import type { Stored } from './equipment-changes.ts';
import { draftsOf } from './equipment-drafts.ts';
import { seeded } from './faulty-pool.ts';
import { type Draft, type TestClient, TestFirm } from './test-firm.ts';

export const DAY_PLAN = {
  rinsatePer: 'unit-and-day',
  partLotsRequired: ['bladder'],
  partsRenewed: ['bladder'],
} as const;

type Fields = Readonly<Record<string, unknown>>;

/** A firm into which a day is pushed through the write door, by three phones. */
export class EquipmentFirm {
  readonly firm: TestFirm;
  readonly #db: pg.Pool;
  clients: readonly TestClient[] = [];

  /** @param db sees every firm */
  constructor(pool: pg.Pool, db: pg.Pool) {
    this.firm = new TestFirm(pool);
    this.#db = db;
  }

  async setUp(): Promise<this> {
    await this.firm.setUp();
    this.clients = [await this.firm.client('admin'), await this.firm.client('admin'), await this.firm.client('admin')];
    return this;
  }

  draftsOf(day: Day, plan: object = DAY_PLAN): Draft[] {
    return draftsOf(this.firm, day.lists, plan);
  }

  /** As one phone would, a hundred at a time. */
  async push(drafts: readonly Draft[], size = 100): Promise<void> {
    for (let at = 0; at < drafts.length; at += size) {
      const outcomes = (await this.clients[0]?.push(...drafts.slice(at, at + size))) ?? [];
      const bad = outcomes.filter(({ outcome }) => outcome !== 'applied');
      if (bad.length > 0) throw new Error(`not applied: ${JSON.stringify(bad.slice(0, 3))}`);
    }
  }

  /** In another order, by three phones, in parts of any size. */
  async pushMixed(drafts: readonly Draft[], seed: number): Promise<void> {
    const chance = seeded(seed);
    const left = drafts.map((draft) => ({ draft, place: chance() })).toSorted((a, b) => a.place - b.place);
    for (let at = 0; at < left.length; ) {
      const size = 1 + Math.floor(chance() ** 3 * 150);
      const client = this.clients[Math.floor(chance() * this.clients.length)];
      await client?.push(...left.slice(at, at + size).map(({ draft }) => draft));
      at += size;
    }
  }

  async stored(kinds: readonly string[]): Promise<readonly Stored[]> {
    const text = `select l.state from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.kind = any($2) and not h.gone order by h.id`;
    const { rows } = await this.#db.query(text, [this.firm.id, kinds]);
    return rows.map(({ state }) => state);
  }

  async told(kind: string): Promise<readonly { readonly id: string; readonly rev: number; readonly fields: Fields }[]> {
    const text = `select l.state from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.kind = $2 and not h.gone`;
    const { rows } = await this.#db.query(text, [this.firm.id, kind]);
    return rows.map(({ state }) => state);
  }

  /** The flags about equipment, in one order. */
  async flags(): Promise<readonly Fields[]> {
    const all = (await this.told('flag')).map(({ fields }) => fields).filter(({ unit }) => typeof unit === 'string');
    return sorted(all);
  }

  async codes(): Promise<readonly string[]> {
    return (await this.flags()).map(({ rule }) => String(rule)).sort();
  }

  async states(): Promise<readonly Fields[]> {
    const own = Object.values(this.firm.ids);
    const all = (await this.told('unit-state')).map(({ fields }) => fields);
    return sorted(all.filter(({ unit }) => !own.includes(String(unit))));
  }

  async stateOf(unit: string) {
    return (await this.told('unit-state')).find(({ fields }) => fields.unit === unit);
  }

  differences() {
    return recompute(this.firm.pool, this.firm.id);
  }
}

function sorted(all: readonly Fields[]): readonly Fields[] {
  return all.toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
}
