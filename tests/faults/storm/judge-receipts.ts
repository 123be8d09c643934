import { createHash } from 'node:crypto';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import { groupBy } from '../../../src/reads/group-by.ts';
import { FIRM } from '../../sim/base-firm.ts';
import type { Acknowledged } from './heard.ts';
import type { StormWorld } from './world.ts';

interface Receipt {
  readonly client: string;
  readonly mutation: number;
  readonly hash: Buffer;
  readonly outcome: string;
  /** What was kept of it to the byte; null where it was applied. */
  readonly raw: Buffer | null;
  readonly standing: string | null;
}

interface Effect {
  readonly client: string;
  readonly mutation: number;
  readonly record: string;
  readonly rev: number;
}

const RECEIPTS = `select r.client, r.mutation::int as mutation, r.hash, r.outcome, s.raw, s.standing
from receipt r left join set_aside s using (firm, client, mutation) where r.firm = $1`;

const EFFECTS = `select client, mutation::int as mutation, record, rev from ledger
where firm = $1 and client is not null and state is not null`;

class Receipts {
  readonly #world: StormWorld;
  readonly #receipts: ReadonlyMap<string, Receipt>;
  readonly #effects: ReadonlyMap<string, readonly Effect[]>;

  constructor(world: StormWorld, receipts: readonly Receipt[], effects: readonly Effect[]) {
    this.#world = world;
    this.#receipts = new Map(receipts.map((one) => [`${one.client} ${one.mutation}`, one]));
    this.#effects = groupBy(effects, (one) => `${one.client} ${one.mutation}`);
  }

  #lost(detail: string): void {
    this.#world.findings.add('no silent loss', detail);
  }

  #doubled(detail: string): void {
    this.#world.findings.add('exactly once', detail);
  }

  run(): void {
    for (const one of this.#world.history.acknowledged.values()) this.#one(one);
    const { captures, acknowledged } = this.#world.history;
    const twice = this.#world.history.answeredTwice();
    if (twice.length > 0) this.#doubled(`captured once and answered under two numbers: ${twice.join()}`);
    const over = [...this.#receipts.values()].filter(({ client, mutation }) => {
      return !this.#setUp(client) && !acknowledged.has(`${client} ${mutation}`);
    });
    if (over.length > 0)
      this.#doubled(`${over.length} receipts of mutations that no phone heard of: ${over[0]?.client}`);
    const mine = [...this.#receipts.values()].filter(({ client }) => !this.#setUp(client));
    if (mine.length !== captures.size) this.#doubled(`${captures.size} captures have ${mine.length} receipts`);
    for (const key of this.#effects.keys()) {
      if (!this.#receipts.has(key)) this.#lost(`the ledger has a row of ${key}, of which there is no receipt`);
    }
  }

  /** The client that entered the firm is no phone. */
  #setUp(client: string): boolean {
    return client === SET_UP;
  }

  #one({ client, mutationId, line, outcome }: Acknowledged): void {
    const key = `${client} ${mutationId}`;
    const receipt = this.#receipts.get(key);
    if (!receipt) {
      this.#lost(`${key} was acknowledged as ${outcome.outcome} and has no receipt`);
      return;
    }
    if (!createHash('sha256').update(line).digest().equals(receipt.hash))
      this.#lost(`${key}: a receipt of other bytes`);
    if (canonicalText(JSON.parse(receipt.outcome)) !== canonicalText(outcome)) {
      this.#doubled(`${key} was answered ${JSON.stringify(outcome)} and its receipt says ${receipt.outcome}`);
    }
    if (outcome.outcome === 'set_aside' || outcome.outcome === 'refused') this.#kept(key, line, receipt);
    else this.#applied(key, outcome.id ?? '', outcome.rev ?? 0);
  }

  /** One row of the ledger for the record that it names, and none that says it again. */
  #applied(key: string, id: string, rev: number): void {
    const of = (this.#effects.get(key) ?? []).filter(({ record }) => record === id);
    const told = of.filter((one) => one.rev === rev).length;
    if (told !== 1 || of.length !== 1) {
      this.#doubled(`${key} was taken as revision ${rev} of ${id}; the ledger has ${told} of ${of.length} rows for it`);
    }
  }

  /** To the byte; what waited and was applied since has its one effect. */
  #kept(key: string, line: string, { raw, standing }: Receipt): void {
    const effects = this.#effects.get(key) ?? [];
    if (standing !== 'released' && effects.length > 0) this.#doubled(`${key} was not taken and is in the ledger`);
    if (raw === null || !raw.equals(Buffer.from(line))) this.#lost(`${key} was set aside and is not kept to the byte`);
  }
}

/** Of the base firm. */
const SET_UP = '01970000-0000-7000-8000-000000000015';

/** Every mutation that a phone has heard of has one receipt and one effect, or is kept; and the server has no other. */
export async function judgeReceipts(world: StormWorld): Promise<void> {
  const { bypass } = world.options.db;
  const receipts = await bypass.query<Receipt>(RECEIPTS, [FIRM]);
  const effects = await bypass.query<Effect>(EFFECTS, [FIRM]);
  new Receipts(world, receipts.rows, effects.rows).run();
}
