import type { FieldClient } from '../../src/client/client.ts';
import { CALL_DECISIONS } from '../../src/protocol/kinds/call.ts';
import { OCCURRENCE_TYPES } from '../../src/protocol/kinds/occurrence.ts';
import { USES } from '../../src/protocol/kinds/unit-use.ts';
import { VISIT_OUTCOMES } from '../../src/protocol/kinds/visit.ts';
import type { TestFirm } from '../support/test-firm.ts';
import type { SimClock } from './fake/phone.ts';

/** Numbers from 0 to 1 from a seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What a crew records at a well on a day on which much goes wrong: figures mistyped, corrected, voided, the wrong well. */
export class RandomVisit {
  readonly phone: FieldClient;
  readonly firm: TestFirm;
  readonly clock: SimClock;
  readonly #chance: () => number;
  visit = '';
  readonly #purges: string[] = [];
  readonly #own: { kind: string; id: string }[] = [];

  constructor(phone: FieldClient, firm: TestFirm, clock: SimClock, chance: () => number) {
    this.phone = phone;
    this.firm = firm;
    this.clock = clock;
    this.#chance = chance;
  }

  /** The same visit on the phone of a partner, who has pulled it. */
  onPhone(phone: FieldClient): RandomVisit {
    const partner = new RandomVisit(phone, this.firm, this.clock, this.#chance);
    partner.visit = this.visit;
    partner.#purges.push(...this.#purges);
    partner.#own.push(...this.#own);
    return partner;
  }

  pick<Item>(items: readonly Item[]): Item {
    const found = items[Math.floor(this.#chance() * items.length)];
    if (found === undefined) throw new Error('nothing to pick from');
    return found;
  }

  #near(middle: number, by: number, places: number): string {
    const wide = this.#chance() < 0.08 ? 12 : 1;
    return (middle + (this.#chance() - 0.5) * by * wide).toFixed(places);
  }

  async begin(): Promise<string> {
    const { event, north, shallow, deep, lone } = this.firm.ids;
    const method = this.pick(['low-flow', 'low-flow', 'low-flow', 'volume', 'dry-well', 'passive'] as const);
    const set = { event, well: this.pick([shallow, deep, lone]), crew: north, method, arrived: this.clock.wall() };
    this.visit = (await this.phone.record('visit', set)).id;
    return this.visit;
  }

  async #keep(kind: string, fields: Record<string, unknown>): Promise<void> {
    const { id } = await this.phone.record(kind, { ...fields, observed: await this.#observed() });
    this.#own.push({ kind, id });
  }

  #observed() {
    const onPaper = this.#chance() < 0.1;
    const at = onPaper ? new Date(this.clock.nowMs - 600_000).toISOString() : this.clock.wall();
    return this.phone.observed({ at, captured: onPaper ? 'from-paper' : 'at-the-well' });
  }

  async #purge(): Promise<string> {
    if (this.#purges.length === 0 || this.#chance() < 0.03) {
      const { id } = await this.phone.record('purge', { visit: this.visit, began: this.clock.wall() });
      this.#purges.push(id);
      this.#own.push({ kind: 'purge', id });
    }
    return this.pick(this.#purges);
  }

  async #reading(): Promise<void> {
    const { meter, otherMeter } = this.firm.ids;
    const all = {
      temperatureC: this.#near(12, 0.5, 1),
      ph: this.#near(7, 0.1, 2),
      specificConductanceUsPerCm: this.#near(510, 10, 0),
      dissolvedOxygenMgPerL: this.#near(2.1, 0.2, 2),
      orpMv: this.#near(-90, 12, 0),
      turbidityNtu: this.#near(4, 2, 1),
      flowMlPerMin: this.#near(200, 20, 0),
      depthToWaterFt: this.#near(21, 0.2, 2),
    };
    const kept = Object.entries(all).filter(() => this.#chance() < 0.93);
    const used = this.#chance() < 0.9 ? meter : otherMeter;
    await this.#keep('reading', { purge: await this.#purge(), meter: used, ...Object.fromEntries(kept) });
  }

  async #correct(): Promise<void> {
    const { kind, id } = this.pick(this.#own);
    const sets: Record<string, Record<string, unknown>> = {
      reading: { ph: this.#near(7, 0.1, 2), ...(this.#chance() < 0.3 ? { turbidityNtu: null } : {}) },
      'water-level': { depthToWaterFt: this.#near(20, 4, 2) },
      sounding: { depthToBottomFt: this.#near(45, 60, 1) },
      call: { decision: this.pick(CALL_DECISIONS) },
      purge: { remark: this.pick(['clear', 'cloudy', 'odour']) },
      'pump-set-up': { intakeDepthFt: this.#near(35, 30, 1) },
    };
    const set = sets[kind];
    if (set) await this.phone.amend(kind, id, set, { reason: 'misread' });
  }

  async #voidOne(): Promise<void> {
    const { kind, id } = this.pick(this.#own);
    await this.phone.voidRecord(kind, id, 'entered twice');
  }

  async #leave(): Promise<void> {
    const ended = this.#chance() < 0.8 ? { left: this.clock.wall() } : {};
    await this.phone.amend('visit', this.visit, { outcome: this.pick(VISIT_OUTCOMES), ...ended });
  }

  async step(): Promise<void> {
    this.clock.pass(Math.floor(this.#chance() * 400_000));
    const { visit } = this;
    const { pump, otherPump, shallow, deep, lone, meter, south } = this.firm.ids;
    const purpose = this.pick(['synoptic', 'before-purge', 'pumping', 'recovery', 'final'] as const);
    const steps: readonly (readonly [number, () => Promise<unknown>])[] = [
      [50, () => this.#reading()],
      [8, () => this.#keep('water-level', { visit, purpose, state: 'measured', depthToWaterFt: this.#near(20, 2, 2) })],
      [3, () => this.#keep('water-level', { visit, purpose, state: this.pick(['dry', 'flowing', 'frozen'] as const) })],
      [4, () => this.#keep('sounding', { visit, depthToBottomFt: this.pick(['40.0', '61.7', '25.2', '33.0']) })],
      [5, () => this.#setUp(this.pick([pump, otherPump]))],
      [3, () => this.#keep('unit-use', { visit, unit: pump, how: this.pick(USES), from: this.clock.wall() })],
      [7, async () => this.#keep('occurrence', { purge: await this.#purge(), ...this.#occurrence(meter, south) })],
      [5, async () => this.#keep('call', { purge: await this.#purge(), decision: this.pick(CALL_DECISIONS) })],
      [3, () => this.#sample()],
      [8, () => (this.#own.length > 0 ? this.#correct() : this.#reading())],
      [4, () => (this.#own.length > 0 ? this.#voidOne() : this.#reading())],
      [1, () => this.phone.rehome('visit', visit, { well: this.pick([shallow, deep, lone]) }, 'wrong well')],
      [2, () => this.#leave()],
    ];
    let left = this.#chance() * steps.reduce((sum, [weight]) => sum + weight, 0);
    for (const [weight, run] of steps) {
      left -= weight;
      if (left < 0) return void (await run());
    }
  }

  #occurrence(meter: string, toCrew: string) {
    const type = this.pick(OCCURRENCE_TYPES);
    const flow = type === 'flow-changed' ? { flowMlPerMin: this.#near(200, 80, 0) } : {};
    return {
      type,
      ...flow,
      ...(type === 'meter-swapped' ? { meter } : {}),
      ...(type === 'handed-over' ? { toCrew } : {}),
    };
  }

  #setUp(pump: string): Promise<void> {
    const lines = { tubingInsideDiameterIn: '0.17', tubingLengthFt: '45', tubingMaterial: 'LDPE' };
    return this.#keep('pump-set-up', { visit: this.visit, pump, intakeDepthFt: this.#near(35, 30, 1), ...lines });
  }

  async #sample(): Promise<void> {
    const set = { visit: this.visit, number: `S-${this.#own.length}`, suites: ['pfas'], collected: this.clock.wall() };
    const { id } = await this.phone.record('sample', set);
    this.#own.push({ kind: 'sample', id });
  }
}
