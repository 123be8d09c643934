import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { v7 } from 'uuid';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { type SyncReport, syncOnce } from '../../src/client/sync.ts';
import { command, RealServer } from './real-server.ts';

const fetchIt: FetchLike = (url, request) => {
  const once = () => fetch(url, request);
  // a connection that was kept open is gone with the server that it led to
  return once().catch(once);
};

const time = { boot: 'boot', monotonicMs: () => Math.round(performance.now()), wall: () => new Date().toISOString() };

/** A firm on a server as it is run, with its database in a folder; an office and two crews with a phone each. */
export class RestoreWorld {
  readonly root: string;
  readonly ids = { ann: v7(), north: v7(), site: v7(), well: v7(), event: v7(), phones: [v7(), v7()] as const };
  server: RealServer;
  office!: FieldClient;
  crews: FieldClient[] = [];

  private constructor(root: string, server: RealServer) {
    this.root = root;
    this.server = server;
  }

  static async open(): Promise<RestoreWorld> {
    const root = await mkdtemp(path.join(os.tmpdir(), 'restore-'));
    const first = path.join(root, 'first');
    const [, secret = ''] = /^token (\S+)$/m.exec(await command(first, 'init', '--firm', 'Restorers')) ?? [];
    const world = new RestoreWorld(root, await RealServer.start(first));
    await world.#enter(secret);
    return world;
  }

  folder(name: string): string {
    return path.join(this.root, name);
  }

  get phones(): readonly FieldClient[] {
    return [this.office, ...this.crews];
  }

  async sync(rounds = 1, phones = this.phones): Promise<SyncReport[]> {
    const reports: SyncReport[] = [];
    for (let round = 0; round < rounds; round++) for (const phone of phones) reports.push(await syncOnce(phone));
    return reports;
  }

  async visit(phone: FieldClient): Promise<string> {
    const { event, well, north: crew } = this.ids;
    const { id } = await phone.record('visit', { event, well, crew, method: 'low-flow', arrived: time.wall() });
    return (await phone.record('purge', { visit: id, began: time.wall() })).id;
  }

  async reading(phone: FieldClient, purge: string, ph: string): Promise<string> {
    return (await phone.record('reading', { purge, ph, observed: await phone.observed() })).id;
  }

  async durable(phone: FieldClient): Promise<number> {
    const answer = await phone.context.transport.feeds((await phone.identity()).client);
    if (!answer.ok) throw new Error(answer.problem.detail);
    return answer.value.durable;
  }

  /** The server goes on at the same address, with its database in another folder. */
  async moveTo(name: string): Promise<void> {
    this.server = await RealServer.start(this.folder(name), this.server.port);
  }

  async close(): Promise<void> {
    await this.server.stop();
    await rm(this.root, { recursive: true, force: true });
  }

  async #phone(token: string): Promise<FieldClient> {
    const transport = httpTransport({ base: this.server.url, token, fetch: fetchIt });
    return openClient({ store: memoryStore(), transport, time, newId: v7 });
  }

  async #enter(secret: string): Promise<void> {
    const { ids } = this;
    this.office = await this.#phone(secret);
    const record = (kind: string, id: string, set: Record<string, unknown>) => this.office.record(kind, set, { id });
    await record('member', ids.ann, { name: 'Ann Reader', initials: 'AR', standing: 'active' });
    await record('crew', ids.north, { name: 'North crew' });
    for (const id of ids.phones) await record('device', id, { label: 'Phone', crew: ids.north, person: ids.ann });
    await record('site', ids.site, { name: 'Old Depot', timeZone: 'America/Chicago' });
    const depths = { depthsFrom: 'measuring-point', totalDepthFt: '40' };
    await record('well', ids.well, { site: ids.site, name: 'W-1', standing: 'in-service', ...depths });
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const round = { site: ids.site, name: 'Spring', starts: '2026-05-04', ends: '2026-05-05', standing: 'open', plan };
    await record('event', ids.event, round);
    await record('assignment', v7(), { event: ids.event, crew: ids.north, well: ids.well });
    await this.office.setPerson(ids.ann);
    await syncOnce(this.office);
    for (const device of ids.phones) {
      const answer = await fetch(`${this.server.url}/v1/tokens`, {
        method: 'POST',
        headers: { authorization: `Bearer ${secret}`, 'content-type': 'application/json' },
        body: JSON.stringify({ label: 'Phone', role: 'crew', device }),
      });
      const crew = await this.#phone(((await answer.json()) as { secret: string }).secret);
      await crew.setPerson(ids.ann);
      this.crews.push(crew);
    }
    await this.sync();
  }
}
