import { v7 } from 'uuid';
import type { RecordState } from '../../../src/protocol/record.ts';
import { localTime } from '../bench-firm.ts';
import type { YearRecord } from '../year/year-states.ts';

export const BOTTLES_A_WELL = 25;
const WELLS_A_COOLER = 4;
const STAY_MS = 1_800_000;
const FILL_MS = 60_000;
const BEGUN_AGO_MS = 24 * 3_600_000;

/** What is filled at a well, again and again until there are enough. */
const BOTTLES = [
  { suite: 'VOC', group: 'volatiles', type: 'vial', volumeMl: '40', preservatives: ['hydrochloric-acid'] },
  { suite: 'VOC', group: 'volatiles', type: 'vial', volumeMl: '40', preservatives: ['hydrochloric-acid'] },
  { suite: 'VOC', group: 'volatiles', type: 'vial', volumeMl: '40', preservatives: ['hydrochloric-acid'] },
  { suite: 'SVOC', group: 'semivolatiles', type: 'bottle', volumeMl: '1000', preservatives: [] },
  { suite: 'Metals', group: 'metals-total', type: 'bottle', volumeMl: '250', preservatives: ['nitric-acid'] },
  { suite: 'PFAS', group: 'pfas-1633', type: 'bottle', volumeMl: '500', preservatives: [] },
  { suite: 'Nutrients', group: 'ammonia', type: 'bottle', volumeMl: '250', preservatives: ['sulfuric-acid'] },
  { suite: 'Ions', group: 'chloride', type: 'bottle', volumeMl: '125', preservatives: [] },
] as const;

/** The groups of analytes of each suite. */
export const SUITES: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  BOTTLES.map(({ suite }) => {
    const its = BOTTLES.filter((one) => one.suite === suite);
    return [suite, new Set(its.map(({ group }) => group))];
  }),
);

/** Whom and what a round refers to. */
export interface RoundGiven {
  readonly site: string;
  readonly wells: readonly string[];
  readonly person: string;
  readonly crews: readonly string[];
  readonly laboratory: string;
}

/** An event that was sampled yesterday, every bottle of it filled and in a closed cooler. */
export class RoundOfSamples {
  readonly event = v7();
  readonly coolers: string[] = [];
  readonly #given: RoundGiven;
  readonly #begunMs: number;
  readonly #client = v7();
  #mutation = 0;

  constructor(given: RoundGiven, nowMs: number) {
    this.#given = given;
    this.#begunMs = nowMs - BEGUN_AGO_MS;
  }

  #record(kind: string, fields: object, under: { parent?: string; visit?: string } = {}, id = v7()): YearRecord {
    this.#mutation += 1;
    const writer = { by: this.#given.person, client: this.#client, mutation: this.#mutation };
    const state = { kind, id, rev: 1, voided: null, ...writer, reason: null, clock: null, fields } as RecordState;
    const place = { parent: under.parent ?? this.event, visit: under.visit ?? null };
    return { feed: `event:${this.event}`, ...place, state };
  }

  #observed(at: string) {
    const { person } = this.#given;
    return { at, entered: at, captured: 'at-the-well', readBy: person, writtenBy: person };
  }

  *records(): Generator<YearRecord> {
    const { site, wells, crews } = this.#given;
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', sampling: { suites: [...SUITES.keys()] } };
    const day = localTime(this.#begunMs).slice(0, 10);
    const event = { site, name: 'Round of 200 wells', starts: day, ends: day, standing: 'open', plan };
    yield { ...this.#record('event', event, {}, this.event), parent: null };
    for (const [number, well] of wells.entries()) {
      if (number % WELLS_A_COOLER === 0) yield* this.#cooler();
      yield* this.#well(number, well, crews[number % crews.length] ?? '');
    }
  }

  *#cooler(): Generator<YearRecord> {
    const { laboratory } = this.#given;
    const [id, number] = [v7(), this.coolers.length + 1];
    this.coolers.push(id);
    const at = localTime(this.#begunMs + 20 * STAY_MS);
    const packed = { laboratory, carrier: 'courier', packed: at, ice: 'wet ice, two bags' };
    yield this.#record('cooler', { event: this.event, number: `C-${number}`, ...packed }, {}, id);
    const under = { parent: id };
    const [cooler, observed] = [id, this.#observed(at)];
    yield this.#record(
      'seal',
      { cooler, number: `00${4_000 + number}`, applied: at, appliedBy: 'AR', observed },
      under,
    );
    const signed = { name: 'Ann Reader', to: 'courier', purpose: 'transport', observed };
    yield this.#record('hand-over', { cooler, side: 'relinquished', at, ...signed }, under);
  }

  *#well(number: number, well: string, crew: string): Generator<YearRecord> {
    const [visit, sample, planned, event] = [v7(), v7(), v7(), this.event];
    const { laboratory, crews } = this.#given;
    const suites = [...SUITES.keys()];
    const name = `2611-${10_000 + number * 37}`;
    const arrivedMs = this.#begunMs + Math.floor(number / crews.length) * STAY_MS;
    const collected = localTime(arrivedMs + STAY_MS / 2);
    yield this.#record('assignment', { event, crew, well, suites });
    const its = { number: name, type: 'normal', well, suites, crew, laboratory, standing: 'planned' };
    yield this.#record('planned-sample', { event, ...its }, {}, planned);
    const stay = { event, well, crew, method: 'low-flow', arrived: localTime(arrivedMs), outcome: 'sampled' };
    yield this.#record('visit', stay, { visit }, visit);
    yield this.#record('sample', { visit, number: name, suites, collected, planned }, { parent: visit, visit }, sample);
    for (let place = 0; place < BOTTLES_A_WELL; place += 1) {
      const at = localTime(arrivedMs + STAY_MS / 2 + place * FILL_MS);
      yield* this.#bottle({ event, sample, planned, label: `${name}-${place + 1}` }, place, { visit, at });
    }
  }

  *#bottle(of: object, place: number, { visit, at }: { visit: string; at: string }): Generator<YearRecord> {
    const container = v7();
    const packed = { cooler: this.coolers.at(-1), standing: 'filled', lot: 'L-12' };
    yield this.#record('container', { ...of, ...BOTTLES[place % BOTTLES.length], ...packed }, {}, container);
    const fill = { container, visit, preserved: true, filtered: false, collected: at, observed: this.#observed(at) };
    yield this.#record('fill', fill, { parent: container });
  }
}
