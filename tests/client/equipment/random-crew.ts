import { DECON_PROTOCOLS } from '../../../src/catalog/decon/decon-protocols.ts';
import type { FieldClient } from '../../../src/client/client.ts';
import { PART_ACTIONS } from '../../../src/protocol/kinds/part-change.ts';
import { SERVICE_TYPES } from '../../../src/protocol/kinds/unit-service.ts';
import { USES } from '../../../src/protocol/kinds/unit-use.ts';
import type { TestFirm } from '../../support/test-firm.ts';
import type { SimClock } from '../fake/phone.ts';

/** What two crews do with shared units on a day on which nobody keeps to anything. */
export class RandomCrew {
  readonly phone: FieldClient;
  readonly #firm: TestFirm;
  readonly #clock: SimClock;
  readonly #chance: () => number;
  readonly #crew: string;
  readonly #visits: string[] = [];
  readonly #purges: string[] = [];
  readonly #decons: { id: string; protocol: string }[] = [];
  readonly #parts: string[] = [];
  readonly #own: { kind: string; id: string }[] = [];

  constructor(phone: FieldClient, crew: string, firm: TestFirm, clock: SimClock, chance: () => number) {
    this.phone = phone;
    this.#crew = crew;
    this.#firm = firm;
    this.#clock = clock;
    this.#chance = chance;
  }

  #pick<Item>(items: readonly Item[]): Item {
    const found = items[Math.floor(this.#chance() * items.length)];
    if (found === undefined) throw new Error('nothing to pick from');
    return found;
  }

  #unit(): string {
    const { pump, otherPump, meter, otherMeter } = this.#firm.ids;
    return this.#pick([pump, pump, otherPump, meter, otherMeter]);
  }

  /** A time of the last hours: much is written down later, or by a watch. */
  #time(): string {
    const before = this.#clock.nowMs;
    if (this.#chance() < 0.2) this.#clock.nowMs -= Math.floor(this.#chance() * 7_200_000);
    const time = this.#clock.wall();
    this.#clock.nowMs = before;
    return time;
  }

  #observed() {
    const at = this.#time();
    return this.phone.observed({ at, captured: this.#pick(['at-the-well', 'at-the-well', 'from-paper'] as const) });
  }

  async #put(kind: string, set: Readonly<Record<string, unknown>>): Promise<string> {
    const { id } = await this.phone.record(kind, set);
    this.#own.push({ kind, id });
    return id;
  }

  async #visit(): Promise<void> {
    const { event, lone, shallow, deep } = this.#firm.ids;
    const set = { event, well: this.#pick([lone, shallow, deep]), crew: this.#crew, method: 'low-flow' };
    const visit = (await this.phone.record('visit', { ...set, arrived: this.#time() })).id;
    this.#visits.push(visit);
    this.#purges.push((await this.phone.record('purge', { visit, began: this.#clock.wall() })).id);
  }

  async #use(): Promise<void> {
    const [visit, purge] = [this.#pick(this.#visits), this.#pick(this.#purges)];
    const observed = await this.#observed();
    const { pump, otherPump, meter, otherMeter } = this.#firm.ids;
    const dice = this.#chance();
    if (dice < 0.4) await this.#put('pump-set-up', { visit, pump: this.#pick([pump, otherPump]), observed });
    else if (dice < 0.7) {
      await this.#put('reading', { purge, ph: '7.10', meter: this.#pick([meter, otherMeter]), observed });
    } else {
      const set = { visit, unit: this.#unit(), how: this.#pick(USES), from: observed.at, observed };
      await this.#put('unit-use', this.#chance() < 0.5 ? set : { ...set, until: this.#clock.wall() });
    }
  }

  async #leave(): Promise<void> {
    await this.phone.amend('visit', this.#pick(this.#visits), { left: this.#time(), outcome: 'sampled' });
  }

  async #decon(): Promise<void> {
    const protocol = this.#pick(['pump-flush', 'meter-rinse', 'bladder-pump-new-parts'] as const);
    const observed = await this.#observed();
    const id = await this.#put('decon', { unit: this.#unit(), protocol, began: observed.at, observed });
    this.#decons.push({ id, protocol });
    const steps = DECON_PROTOCOLS.find((one) => one.id === protocol)?.steps ?? [];
    const goodAtIt = this.#chance() < 0.6;
    for (const step of steps) {
      if (!goodAtIt && this.#chance() < 0.3) continue;
      this.#clock.pass(30_000);
      const set = { decon: id, step: step.id, done: true, observed: await this.phone.observed() };
      await this.#put('decon-step', step.fluids[0] ? { ...set, fluid: step.fluids[0].replaceAll('-', ' ') } : set);
    }
    if (goodAtIt) await this.#end();
  }

  async #end(): Promise<void> {
    const decon = this.#decons.at(-1);
    if (!decon) return;
    await this.phone.amend('decon', decon.id, { ended: this.#clock.wall(), wasteTo: 'Drum 1' });
  }

  async #part(): Promise<void> {
    const observed = await this.#observed();
    if (this.#parts.length === 0 || this.#chance() < 0.4)
      this.#parts.push(await this.#put('part', { type: this.#pick(['bladder', 'tubing'] as const), lot: 'L-1' }));
    const { pump, otherPump } = this.#firm.ids;
    const set = { unit: this.#pick([pump, otherPump]), part: this.#pick(this.#parts), observed };
    await this.#put('part-change', { ...set, action: this.#pick(PART_ACTIONS) });
  }

  async #service(): Promise<void> {
    const set = { unit: this.#unit(), type: this.#pick(SERVICE_TYPES) };
    await this.#put('unit-service', { ...set, observed: await this.#observed() });
  }

  async #void(): Promise<void> {
    if (this.#own.length === 0) return;
    const { kind, id } = this.#pick(this.#own);
    if ((await this.phone.one(id))?.record.voided === null) await this.phone.voidRecord(kind, id, 'a slip');
  }

  async step(): Promise<void> {
    this.#clock.pass(60_000 + Math.floor(this.#chance() * 600_000));
    if (this.#visits.length === 0) return this.#visit();
    const dice = this.#chance();
    if (dice < 0.12) return this.#visit();
    if (dice < 0.45) return this.#use();
    if (dice < 0.57) return this.#leave();
    if (dice < 0.75) return this.#decon();
    if (dice < 0.8) return this.#end();
    if (dice < 0.87) return this.#part();
    return dice < 0.94 ? this.#service() : this.#void();
  }
}
