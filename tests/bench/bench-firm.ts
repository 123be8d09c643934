import { randomUUID } from 'node:crypto';
import type pg from 'pg';
import { v7 } from 'uuid';
import { issueToken } from '../../src/writes/set-up-firm.ts';
import { type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';

const WELLS = 200;
/** Drafts that are entered at once while the ground is prepared. */
const AT_ONCE = 200;

/** A phone with its token, and the number of its next mutation. */
export interface Phone {
  readonly client: string;
  readonly headers: string;
  next: number;
}

/** What a crew has in its truck. */
interface Kit {
  readonly pump: string;
  readonly meter: string;
  readonly cell: string;
}

/** Crews at work at once, each with its own kit: one pump cannot hang in sixteen wells. */
export const CREWS = 16;

/** From one well of a crew to its next: all of one kit follow each other, and the last ends before now. */
const STAY_MS = 6 * 3_600_000;
const MOST_STAYS = 4_000;

/** A purge that is under way, ready to take readings. */
export interface OpenPurge {
  readonly visit: string;
  readonly purge: string;
  readonly meter: string;
  readonly begunMs: number;
}

export async function pushAll(client: TestClient, drafts: readonly Draft[]): Promise<void> {
  for (let from = 0; from < drafts.length; from += AT_ONCE) {
    const outcomes = await client.push(...drafts.slice(from, from + AT_ONCE));
    const bad = outcomes.find((one) => one.outcome !== 'applied');
    if (bad) throw new Error(`the ground was not prepared: ${JSON.stringify(bad)}`);
  }
}

/** A firm with an event of 200 wells, in whose feed everything is written. */
export class BenchFirm {
  readonly firm: TestFirm;
  readonly admin: TestClient;
  readonly wells: readonly string[];
  readonly #kits: readonly Kit[];
  readonly #stays = new Array<number>(CREWS).fill(0);
  #visits = 0;

  private constructor(firm: TestFirm, admin: TestClient, wells: readonly string[], kits: readonly Kit[]) {
    this.firm = firm;
    this.admin = admin;
    this.wells = wells;
    this.#kits = kits;
  }

  static async setUp(pool: pg.Pool): Promise<BenchFirm> {
    const firm = new TestFirm(pool);
    firm.nowMs = Date.now();
    const admin = await firm.setUp();
    const wells = Array.from({ length: WELLS }, () => v7());
    const set = { site: firm.ids.site, standing: 'in-service', depthsFrom: 'measuring-point', totalDepthFt: '40' };
    const built = { screenTopFt: '30', screenBottomFt: '40', casingInsideDiameterIn: '2.067' };
    const named = wells.map((id, index): Draft => {
      return { kind: 'well', id, set: { ...set, ...built, name: `B-${String(index + 1).padStart(3, '0')}` } };
    });
    const kits = Array.from({ length: CREWS }, () => ({ pump: v7(), meter: v7(), cell: v7() }));
    await pushAll(admin, [...named, ...kits.flatMap(unitsOf)]);
    return new BenchFirm(firm, admin, wells, kits);
  }

  get feed(): string {
    return `event:${this.firm.ids.event}`;
  }

  async phone(): Promise<Phone> {
    const wish = { label: 'Phone', role: 'crew', device: this.firm.ids.phone } as const;
    const { secret } = await issueToken(this.firm.pool, this.firm.id, wish, new Date());
    const headers = `authorization: Bearer ${secret}\r\ncontent-type: application/x-ndjson\r\n`;
    return { client: randomUUID(), headers, next: 1 };
  }

  phones(count: number): Promise<Phone[]> {
    return Promise.all(Array.from({ length: count }, () => this.phone()));
  }

  /** Visits with a level, a pump in place and a purge begun, as many as are asked for: each crew's behind one another. */
  async openPurges(count: number, event = this.firm.ids.event): Promise<OpenPurge[]> {
    // all readings lie behind
    this.firm.nowMs = Date.now();
    const each = Math.ceil(count / CREWS);
    const made = Array.from({ length: count }, (_, at) => this.#openPurge(Math.floor(at / each), event));
    const person = { by: this.firm.ids.ann };
    await pushAll(
      this.admin,
      made.flatMap((one) => one.drafts.map((draft) => ({ ...draft, ...person }))),
    );
    return made.map(({ open }) => open);
  }

  /** When the next stay of a crew begins. */
  #nextStayMs(crew: number): number {
    const stay = this.#stays[crew] ?? 0;
    if (stay >= MOST_STAYS)
      throw new RangeError(`crew ${crew} was in ${MOST_STAYS} wells: its next stay would end after now`);
    this.#stays[crew] = stay + 1;
    return Math.floor(this.firm.nowMs / 1_000) * 1_000 - (MOST_STAYS - stay) * STAY_MS;
  }

  #openPurge(crew: number, event: string): { open: OpenPurge; drafts: readonly Draft[] } {
    const { ids } = this.firm;
    const kit = this.#kits[crew];
    if (!kit) throw new RangeError(`there is no crew ${crew}`);
    const begunMs = this.#nextStayMs(crew);
    const well = this.wells[this.#visits++ % WELLS] ?? ids.lone;
    const [visit, purge, arrived] = [v7(), v7(), localTime(begunMs - 1_200_000)];
    const level = { visit, purpose: 'before-purge', state: 'measured', depthToWaterFt: '21.30' };
    const { pump, meter, cell: flowCell } = kit;
    const inPlace = {
      visit,
      pump,
      flowCell,
      intakeDepthFt: '35',
      tubingInsideDiameterIn: '0.17',
      tubingLengthFt: '45',
    };
    const observed = this.firm.observed(arrived);
    const set = { event, well, crew: ids.north, method: 'low-flow', arrived };
    const drafts = [
      { kind: 'visit', id: visit, set },
      { kind: 'water-level', set: { ...level, observed } },
      { kind: 'pump-set-up', set: { ...inPlace, observed } },
      { kind: 'purge', id: purge, set: { visit, began: localTime(begunMs - 60_000) } },
    ];
    return { open: { visit, purge, meter, begunMs }, drafts };
  }
}

function unitsOf({ pump, meter, cell }: Kit, crew: number): Draft[] {
  const unit = (id: string, type: string, label: string, more: object = {}): Draft => {
    return {
      kind: 'unit',
      id,
      set: { type, label: `${label} ${crew + 1}`, use: 'shared', ownership: 'owned', ...more },
    };
  };
  return [
    unit(pump, 'bladder-pump', 'Pump'),
    unit(meter, 'multi-parameter-meter', 'Meter'),
    unit(cell, 'flow-cell', 'Cell', { flowCellVolumeMl: '250' }),
  ];
}

const OFFSET_MS = 5 * 3_600_000;

/** The time as a watch in Central Daylight Time shows it, with its offset. */
export function localTime(ms: number): string {
  return `${new Date(ms - OFFSET_MS).toISOString().slice(0, 19)}-05:00`;
}
