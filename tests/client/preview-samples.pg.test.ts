import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FieldClient } from '../../src/client/client.ts';
import { previewFlags } from '../../src/client/preview/flags.ts';
import { type FlagFields, previewVisit } from '../../src/client/preview/preview.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { canonicalText } from '../../src/protocol/content-hash.ts';
import { SAMPLE_RULES } from '../../src/rules/samples/fill-rules/sample-rules.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';
import { seeded } from './random-visit.ts';
import { serverPhone } from './server-phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
  const office = await server.firm.client('admin');
  const volatiles = { name: 'VOC', groups: [{ group: 'volatiles' }] };
  const metals = { name: 'Metals', groups: [{ group: 'metals-dissolved', containers: 1 }, { group: 'mercury' }] };
  await office.push({ kind: 'analyte-suite', set: volatiles }, { kind: 'analyte-suite', set: metals });
});
afterAll(() => server.close());

const CODES: readonly string[] = SAMPLE_RULES.map(({ code }) => code);

/** What the server stored of the samples of a visit, byte for byte, wherever it lies. */
async function storedFor(visit: string): Promise<string[]> {
  const { rows } = await server.db.bypass.query<{ id: string; state: string }>(
    `select h.id, l.state::text as state from head h join ledger l using (firm, feed, seq)
     where h.firm = $1 and h.kind = 'flag' and not h.gone
       and l.state #>> '{fields,visit}' = $2 and l.state #>> '{fields,rule}' = any($3)`,
    [server.firm.id, visit, CODES],
  );
  return rows.map(({ id, state }) => `${id} ${canonicalText(JSON.parse(state).fields)}`).sort();
}

async function saidHere(phone: FieldClient, visit: string): Promise<string[]> {
  const { flags } = await previewVisit(phone, visit);
  const here = flags.flatMap(({ id, here: fields }) => (fields ? [{ id, fields }] : []));
  const its = here.filter(({ fields }) => CODES.includes(fields.rule));
  return its.map(({ id, fields }) => `${id} ${canonicalText(fields)}`).sort();
}

async function syncNow(phone: FieldClient): Promise<void> {
  server.firm.nowMs = clock.nowMs;
  expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });
}

/** What the office planned, and the phone pulled. */
async function planned(type: string): Promise<string> {
  const { event, lone: well } = server.firm.ids;
  const set = { event, number: `P-${v7()}`, type, well, suites: ['VOC', 'Metals'], standing: 'planned' };
  const id = v7();
  await (await server.firm.client('coordinator')).push({ kind: 'planned-sample', id, set });
  return id;
}

/** Bottles of a day on which much goes wrong: bubbles, filters, the wrong sample, thrown away, filled anew. */
class Bottles {
  readonly phone: FieldClient;
  readonly visit: string;
  readonly #chance: () => number;
  readonly samples: string[] = [];
  readonly plans: string[] = [];
  readonly containers: string[] = [];
  readonly fills: string[] = [];

  constructor(phone: FieldClient, visit: string, chance: () => number, known?: Bottles) {
    this.phone = phone;
    this.visit = visit;
    this.#chance = chance;
    if (!known) return;
    this.samples.push(...known.samples);
    this.plans.push(...known.plans);
    this.containers.push(...known.containers);
    this.fills.push(...known.fills);
  }

  static async begin(phone: FieldClient, chance: () => number): Promise<Bottles> {
    const { event, lone: well, north: crew } = server.firm.ids;
    const set = { event, well, crew, method: 'low-flow', arrived: clock.wall() };
    const { id } = await phone.record('visit', set);
    const bottles = new Bottles(phone, id, chance);
    bottles.plans.push(await planned('normal'), await planned('matrix-spike'));
    await syncNow(phone);
    const purge = await phone.record('purge', { visit: id, began: clock.wall() });
    clock.pass(600_000);
    await phone.record('call', { purge: purge.id, decision: 'stable', observed: await phone.observed({}) });
    await bottles.sample();
    return bottles;
  }

  pick<Item>(items: readonly Item[]): Item {
    return items[Math.floor(this.#chance() * items.length)] as Item;
  }

  async sample(): Promise<void> {
    const type =
      this.samples.length > 0 ? { type: this.pick(['duplicate', 'split']), of: this.pick(this.samples) } : {};
    const number = `S-${Math.floor(this.#chance() * 1e9)}`;
    const set = { visit: this.visit, number, suites: ['VOC', 'Metals'], collected: clock.wall(), ...type };
    const taken = this.#chance() < 0.6 ? { planned: this.pick(this.plans) } : {};
    this.samples.push((await this.phone.record('sample', { ...set, ...taken })).id);
  }

  async container(): Promise<void> {
    const [group, suite] = this.pick([
      ['volatiles', 'VOC'],
      ['volatiles', 'VOC'],
      ['metals-dissolved', 'Metals'],
      ['mercury', 'Metals'],
    ] as const);
    const set = {
      event: server.firm.ids.event,
      ...(this.#chance() < 0.7 ? { sample: this.pick(this.samples) } : {}),
      ...(this.#chance() < 0.4 ? { planned: this.pick(this.plans) } : {}),
      ...{ group, suite, type: this.pick(['vial', 'bottle']), material: this.pick(['glass', 'hdpe']) },
      preservatives: this.pick([[], ['hydrochloric-acid'], ['nitric-acid']]),
      ...{ volumeMl: this.pick(['40', '250', '500']), label: `L-${Math.floor(this.#chance() * 1e9)}` },
      standing: this.pick(['expected', 'filled']),
    };
    this.containers.push((await this.phone.record('container', set)).id);
  }

  async fill(): Promise<void> {
    if (this.containers.length === 0) return this.container();
    const said = { filtered: this.#chance() < 0.3, bubble: this.#chance() < 0.3, cellOff: this.#chance() < 0.8 };
    const figures = { flowMlPerMin: this.pick(['90', '300']), ph: this.pick(['1.5', '4']) };
    const of = { container: this.pick(this.containers), visit: this.visit };
    const set = { ...of, ...said, ...figures, collected: clock.wall(), observed: await this.phone.observed({}) };
    this.fills.push((await this.phone.record('fill', set)).id);
  }

  async change(): Promise<void> {
    const [container, fill] = [this.pick(this.containers), this.pick(this.fills)];
    const reason = { reason: 'mistaken' };
    const standing = this.pick(['discarded', 'dropped', 'filled'] as const);
    const roll = this.#chance();
    if (container && roll < 0.35) await this.phone.amend('container', container, { standing }, reason);
    else if (container && roll < 0.5)
      await this.phone.amend('container', container, { sample: this.pick(this.samples) }, reason);
    else if (container && roll < 0.6) await this.phone.voidRecord('container', container, 'entered twice');
    else if (fill && roll < 0.75) await this.phone.voidRecord('fill', fill, 'entered twice');
    else if (fill) await this.phone.amend('fill', fill, { bubble: this.#chance() < 0.5 }, reason);
  }

  async steps(count: number): Promise<void> {
    for (let left = count; left > 0; left--) {
      clock.pass(Math.floor(this.#chance() * 900_000));
      const roll = this.#chance();
      if (roll < 0.35) await this.container();
      else if (roll < 0.7) await this.fill();
      else if (roll < 0.75) await this.sample();
      else if (roll < 0.95) await this.change();
      else await this.phone.amend('visit', this.visit, { left: clock.wall(), outcome: 'sampled' });
    }
  }
}

describe('what a phone shows of samples and their containers is what the server will say', () => {
  it.each(Array.from({ length: 8 }, (_, at) => at + 1))(
    '[P1] byte for byte, of a random visit with its bottles (seed %i)',
    async (seed) => {
      const chance = seeded(seed);
      const phone = await serverPhone(server, clock, server.firm.ids.phone);
      await syncNow(phone);
      const bottles = await Bottles.begin(phone, chance);
      await bottles.steps(25);
      const here = await saidHere(phone, bottles.visit);
      expect(here.length).toBeGreaterThan(3);
      await syncNow(phone);
      expect(await storedFor(bottles.visit)).toEqual(here);
      await bottles.steps(10);
      const later = await saidHere(phone, bottles.visit);
      await syncNow(phone);
      expect(await storedFor(bottles.visit)).toEqual(later);
      expect((await previewVisit(phone, bottles.visit)).ahead).toMatchObject({ unsent: 0, notPulled: 0, agrees: true });
    },
  );

  it.each([101, 102, 103, 104])(
    '[P2] also where a partner filled bottles of the visit before (seed %i)',
    async (seed) => {
      const chance = seeded(seed);
      const one = await serverPhone(server, clock, server.firm.ids.phone);
      const two = await serverPhone(server, clock, server.firm.ids.otherPhone);
      await syncNow(one);
      const bottles = await Bottles.begin(one, chance);
      await bottles.steps(10);
      await syncNow(one);
      await syncNow(two);
      await new Bottles(two, bottles.visit, chance, bottles).steps(10);
      await syncNow(two);
      await syncNow(one);
      await bottles.steps(10);
      const here = await saidHere(one, bottles.visit);
      await syncNow(one);
      expect(await storedFor(bottles.visit)).toEqual(here);
    },
  );

  it('[P5] a fill is answered by what it asks, and what answers it, before anything is sent', async () => {
    const phone = await serverPhone(server, clock, server.firm.ids.phone);
    await syncNow(phone);
    const bottles = await Bottles.begin(phone, seeded(7));
    const { event } = server.firm.ids;
    const of = { event, sample: bottles.samples[0], group: 'volatiles', suite: 'VOC' };
    const vial = { type: 'vial', material: 'glass', preservatives: ['hydrochloric-acid'], volumeMl: '40' };
    const { id: container } = await phone.record('container', { ...of, ...vial, label: 'W-1-1', standing: 'expected' });
    const fill = async (bubble: boolean) => {
      clock.pass(60_000);
      const set = { container, visit: bottles.visit, bubble, collected: clock.wall() };
      return previewFlags(phone, await phone.record('fill', { ...set, observed: await phone.observed({}) }));
    };
    const rules = (flags: readonly FlagFields[] | undefined) => flags?.map(({ rule }) => rule);
    expect(rules((await fill(true))?.now)).toEqual(['bubble-in-container']);
    const again = await fill(false);
    expect([rules(again?.now), rules(again?.cleared)]).toEqual([
      ['filled-again-with-preservative'],
      ['bubble-in-container'],
    ]);
  });
});
