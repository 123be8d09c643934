import { v7 } from 'uuid';
import { type FieldClient, openClient } from '../../../src/client/client.ts';
import { identityOf } from '../../../src/client/context.ts';
import { httpTransport } from '../../../src/client/http-transport.ts';
import { memoryStore } from '../../../src/client/memory-store.ts';
import type { ClientStore } from '../../../src/client/store.ts';
import { SimClock } from '../fake/phone.ts';

type Fields = Readonly<Record<string, unknown>>;

/** A phone that has pulled a firm with its units and an event with wells, and has no signal. */
export class EquippedPhone {
  readonly clock = new SimClock();
  readonly store: ClientStore = memoryStore();
  readonly ids = {
    firm: v7(),
    ann: v7(),
    north: v7(),
    south: v7(),
    site: v7(),
    dirty: v7(),
    clean: v7(),
    event: v7(),
    pump: v7(),
    tape: v7(),
    meter: v7(),
  };
  #seq = 0;
  #phone: FieldClient | null = null;

  get phone(): FieldClient {
    if (this.#phone === null) throw new Error('open the phone first');
    return this.#phone;
  }

  async open(plan: Fields = {}): Promise<this> {
    const { ids, clock, store } = this;
    const transport = httpTransport({
      base: 'http://nowhere',
      token: 'none',
      fetch: () => Promise.reject(new Error('no signal')),
    });
    this.#phone = await openClient({ store, transport, time: clock, newId: v7, role: 'crew' });
    await this.pulled('firm', 'firm', { name: 'Testwater Associates' }, ids.firm);
    await this.pulled('firm', 'member', { name: 'Ann Reader', initials: 'AR', standing: 'active' }, ids.ann);
    await this.pulled('firm', 'crew', { name: 'North crew' }, ids.north);
    await this.pulled('firm', 'crew', { name: 'South crew' }, ids.south);
    await this.unit(ids.pump, 'bladder-pump', 'Pump A');
    await this.unit(ids.tape, 'water-level-tape', 'Tape 1');
    await this.unit(ids.meter, 'multi-parameter-meter', 'Meter A');
    const site = `site:${ids.site}`;
    await this.pulled(site, 'site', { name: 'Old Depot', timeZone: 'America/Chicago' }, ids.site);
    const well = { site: ids.site, standing: 'in-service', depthsFrom: 'measuring-point' };
    await this.pulled(site, 'well', { ...well, name: 'W-1', contaminants: ['organics'] }, ids.dirty);
    await this.pulled(site, 'well', { ...well, name: 'W-2', contaminants: [] }, ids.clean);
    const days = { name: 'Spring round', starts: '2026-05-04', ends: '2026-05-05', standing: 'open' };
    const criteria = 'epa-region-1-low-stress-rev-4';
    await this.pulled(
      `event:${ids.event}`,
      'event',
      { site: ids.site, ...days, plan: { criteria, ...plan } },
      ids.event,
    );
    await this.phone.setPerson(ids.ann);
    return this;
  }

  unit(id: string, type: string, label: string, more: Fields = {}): Promise<string> {
    return this.pulled('firm', 'unit', { type, label, use: 'shared', ownership: 'owned', ...more }, id);
  }

  /** A row as a pull brings it. */
  async pulled(feed: string, kind: string, fields: Fields, id: string = v7()): Promise<string> {
    this.#seq += 1;
    const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
    const record = { kind, id, rev: 1, ...nobody, fields };
    const known = (await this.store.feeds()).find((one) => one.feed === feed);
    const state = {
      cursor: 'c',
      contentHash: '0',
      complete: true,
      feed,
      seq: this.#seq,
      count: (known?.count ?? 0) + 1,
    };
    await this.store.commit([
      { put: 'feed', state },
      { put: 'record', stored: { feed, seq: this.#seq, hash: '0', record } },
    ]);
    return id;
  }

  /** The server measured the clock of the phone by an earlier record of it. */
  async clockIsOffBy(differenceMs: number): Promise<void> {
    const { client } = await identityOf(this.store);
    const id = await this.unit(v7(), 'other', 'Box');
    const row = (await this.store.recordsOfFeed('firm')).find(({ record }) => record.id === id);
    if (!row) throw new Error('the row that was just pulled is not there');
    const wall = this.clock.wall();
    const clock = { wall, monotonicMs: 0, boot: 'boot-0', sequence: 0, differenceMs, uncertaintyMs: 0 };
    const record = { ...row.record, client, clock };
    await this.store.commit([{ put: 'record', stored: { ...row, record } }]);
  }

  async visit(well: string, event = this.ids.event): Promise<string> {
    this.clock.pass(60_000);
    const set = { event, well, crew: this.ids.north, method: 'low-flow', arrived: this.clock.wall() };
    return (await this.phone.record('visit', set)).id;
  }

  async leave(visit: string): Promise<void> {
    this.clock.pass(1_800_000);
    await this.phone.amend('visit', visit, { left: this.clock.wall(), outcome: 'sampled' });
  }

  async setUp(visit: string, pump = this.ids.pump) {
    this.clock.pass(60_000);
    return this.phone.record('pump-set-up', { visit, pump, observed: await this.phone.observed() });
  }

  /** Begun and ended, with these steps done. */
  async decon(unit: string, protocol: string, steps: readonly (readonly [string, string | null])[]): Promise<string> {
    this.clock.pass(120_000);
    const began = this.clock.wall();
    const set = { unit, protocol, event: this.ids.event, began, wasteTo: 'Drum 3' };
    const { id } = await this.phone.record('decon', { ...set, observed: await this.phone.observed() });
    for (const [step, fluid] of steps) {
      this.clock.pass(60_000);
      const done = { decon: id, step, done: true, ...(fluid ? { fluid } : {}) };
      await this.phone.record('decon-step', { ...done, observed: await this.phone.observed() });
    }
    this.clock.pass(60_000);
    await this.phone.amend('decon', id, { ended: this.clock.wall() });
    return id;
  }

  pumpFlush(unit = this.ids.pump, leftOut: readonly string[] = []): Promise<string> {
    return this.decon(
      unit,
      'pump-flush',
      PUMP_FLUSH.filter(([step]) => !leftOut.includes(step)),
    );
  }
}

const PUMP_FLUSH = [
  ['tubing', null],
  ['outside-flush', 'potable water'],
  ['first-water', 'potable water'],
  ['detergent-flush', 'detergent'],
  ['second-water', 'potable water'],
  ['final-flush', 'deionized water'],
] as const;
