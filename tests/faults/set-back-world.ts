import { v7 } from 'uuid';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { type SyncReport, syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import type { Actor } from '../../src/writes/batch.ts';
import { openLane } from '../../src/writes/lane.ts';
import { TestClient, TestFirm } from '../support/test-firm.ts';
import { MovableServer } from './movable-server.ts';

const asked: FetchLike = async (url, request) => {
  const once = () => fetch(url, request);
  // a connection that was kept open is gone with the server that it led to
  return once().catch(once);
};

/** The clock of the day, a little later at every look. */
class Ticking {
  readonly boot: string;
  #ms = Date.now();

  constructor(boot: string) {
    this.boot = boot;
  }

  monotonicMs(): number {
    this.#ms += 10;
    return this.#ms;
  }

  wall(): string {
    this.#ms += 10;
    return new Date(this.#ms).toISOString();
  }
}

/** Everything that a phone holds, by feed and id. */
export async function heldBy(phone: FieldClient): Promise<Map<string, RecordState>> {
  const { store } = phone.context;
  const rows = await Promise.all((await store.feeds()).map(({ feed }) => store.recordsOfFeed(feed)));
  return new Map(rows.flat().map(({ feed, record }) => [`${feed} ${record.id}`, record]));
}

/** Two crews with a phone each, and an office that follows everything, on a server that can be set back. */
export class World {
  readonly server: MovableServer;
  readonly firm: TestFirm;
  readonly north: FieldClient;
  readonly south: FieldClient;
  readonly office: FieldClient;

  private constructor(server: MovableServer, firm: TestFirm, phones: readonly FieldClient[]) {
    const [north, south, office] = phones;
    if (!north || !south || !office) throw new Error('three phones are needed');
    this.server = server;
    this.firm = firm;
    this.north = north;
    this.south = south;
    this.office = office;
  }

  static async open(): Promise<World> {
    const server = await MovableServer.open();
    const firm = new TestFirm(server.pool);
    await firm.setUp();
    const phone = async (role: 'crew' | 'coordinator', device: string | null) => {
      const { secret: token } = await server.token(firm.id, role, device);
      const transport = httpTransport({ base: server.url, token, fetch: asked });
      const client = await openClient({
        store: memoryStore(),
        transport,
        time: new Ticking(`boot of ${device ?? role}`),
        newId: v7,
      });
      await client.setPerson(firm.ids.ann);
      return client;
    };
    const { phone: one, otherPhone: other } = firm.ids;
    const phones = [await phone('crew', one), await phone('crew', other), await phone('coordinator', null)];
    const world = new World(server, firm, phones);
    await world.syncAll();
    return world;
  }

  get phones(): readonly FieldClient[] {
    return [this.north, this.south, this.office];
  }

  /** Someone who writes straight into the write door of the server as it runs now. */
  async firmAdmin(): Promise<TestClient> {
    const { pool } = this.server;
    const { id: token } = await this.server.token(this.firm.id, 'admin', null);
    const actor: Actor = { firm: this.firm.id, token, role: 'admin', device: null, person: null, revoked: false };
    const lane = openLane({ pool, now: () => new Date(), committed: () => undefined });
    return new TestClient(actor, lane);
  }

  /** Each phone in its turn, so many times. */
  async syncAll(rounds = 1, phones = this.phones): Promise<SyncReport[]> {
    const reports: SyncReport[] = [];
    for (let round = 0; round < rounds; round++) {
      for (const phone of phones) reports.push(await syncOnce(phone));
    }
    return reports;
  }

  async visit(phone: FieldClient, well: string, crew: string): Promise<string> {
    const { event } = this.firm.ids;
    const { time } = phone.context;
    const fields = { event, well, crew, method: 'low-flow', arrived: time.wall() };
    const { id } = await phone.record('visit', fields);
    return (await phone.record('purge', { visit: id, began: time.wall() })).id;
  }

  async reading(phone: FieldClient, purge: string, ph: string): Promise<string> {
    return (await phone.record('reading', { purge, ph, observed: await phone.observed() })).id;
  }

  /** How often the ledger says that a record was made or changed, and with what it was last. */
  async told(id: string): Promise<{ changes: number; fields: unknown }> {
    const client = await this.server.pool.connect();
    await client.query('begin');
    await client.query(`select set_config('wellround.firm', $1, true)`, [this.firm.id]);
    const { rows } = await client.query<{ state: RecordState }>(
      'select state from ledger where record = $1 order by rev',
      [id],
    );
    await client.query('commit');
    client.release();
    return { changes: rows.length, fields: rows.at(-1)?.state.fields };
  }

  /** Feeds in which a phone does not hold what the server counts and hashes; none where all agree. */
  async disagreements(): Promise<string[]> {
    const found: string[] = [];
    for (const phone of this.phones) {
      const answer = await phone.context.transport.feeds((await phone.identity()).client);
      if (!answer.ok) throw new Error(answer.problem.detail);
      for (const listed of answer.value.feeds) {
        const held = recount(await phone.context.store.recordsOfFeed(listed.feed));
        if (!sameTally(held, listed)) found.push(listed.feed);
      }
    }
    return found;
  }
}
