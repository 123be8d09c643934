import { v7 } from 'uuid';
import { deconProtocol } from '../../../src/catalog/decon/decon-protocols.ts';
import type { RecordState } from '../../../src/protocol/record.ts';

/** How large a year is. */
export interface YearSize {
  readonly units: number;
  readonly events: number;
  /** Of each unit, over the whole year: as many decons, set-ups and visits, and twice as many samples. */
  readonly stays: number;
}

export const YEAR: YearSize = { units: 50, events: 200, stays: 400 };
export const SHORT_YEAR: YearSize = { units: 3, events: 200, stays: 400 };

/** A record with the feed that it lives in and what it lies under. */
export interface YearRecord {
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly state: RecordState;
}

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const BEGUN_MS = Date.parse('2026-01-05T08:00:00Z');
const OFFSET_MS = 6 * 3_600_000;
const PROTOCOL = 'pump-flush';
const RINSATE_EACH = 8;
const TUBING_EACH = 10;
const WELLS = 200;
const ANALYTES = ['benzene', 'toluene', 'trichloroethene', 'tetrachloroethene', 'vinyl chloride'];

const at = (ms: number) => `${new Date(ms - OFFSET_MS).toISOString().slice(0, 19)}-06:00`;

/** A year of a firm with shared pumps: each goes from well to well, is cleaned in between, and rinsed now and then. */
export class YearOfRecords {
  readonly units: readonly string[];
  readonly #size: YearSize;
  readonly #client = v7();
  readonly #person = v7();
  readonly #site = v7();
  readonly #crew = v7();
  readonly #wells = Array.from({ length: WELLS }, () => v7());
  readonly #events: readonly string[];
  #mutation = 0;

  constructor(size: YearSize) {
    this.#size = size;
    this.units = Array.from({ length: size.units }, () => v7());
    this.#events = Array.from({ length: size.events }, () => v7());
  }

  #record(feed: string, kind: string, fields: object, under: { parent?: string; visit?: string } = {}, id = v7()) {
    this.#mutation += 1;
    const writer = { by: this.#person, client: this.#client, mutation: this.#mutation };
    const state = { kind, id, rev: 1, voided: null, ...writer, reason: null, clock: null, fields } as RecordState;
    return { feed, parent: under.parent ?? null, visit: under.visit ?? null, state };
  }

  #observed(ms: number) {
    const [time, who] = [at(ms), this.#person];
    return { at: time, entered: time, captured: 'at-the-well', readBy: who, writtenBy: who };
  }

  /** People, places, units and events: what everything else refers to. */
  *standing(): Generator<YearRecord> {
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    yield this.#record('firm', 'member', { name: 'Ann', initials: 'A', standing: 'active' }, {}, this.#person);
    yield this.#record('firm', 'crew', { name: 'North' }, {}, this.#crew);
    const [site, home] = [this.#site, `site:${this.#site}`];
    yield this.#record(home, 'site', { name: 'Depot', timeZone: 'America/Chicago' }, {}, site);
    for (const [number, id] of this.#wells.entries()) {
      const fields = { site, name: `B-${number}`, standing: 'in-service', depthsFrom: 'measuring-point' };
      yield this.#record(home, 'well', fields, { parent: site }, id);
    }
    for (const [number, id] of this.units.entries()) {
      const fields = { type: 'submersible-pump', label: `P-${number}`, use: 'shared', ownership: 'owned' };
      yield this.#record('firm', 'unit', fields, {}, id);
    }
    for (const [number, id] of this.#events.entries()) {
      const day = at(BEGUN_MS + number * DAY_MS).slice(0, 10);
      const fields = { site, name: `Round ${number}`, starts: day, ends: day, standing: 'closed', plan };
      yield this.#record(`event:${id}`, 'event', fields, {}, id);
    }
  }

  *#stay(unit: string, number: number, ms: number): Generator<YearRecord> {
    const { events, stays } = this.#size;
    const event = this.#events[Math.floor((number * events) / stays)] ?? '';
    const place = this.units.indexOf(unit) * 7 + number * 3;
    const well = this.#wells[place % WELLS] ?? '';
    const [feed, visit] = [`event:${event}`, v7()];
    const times = { arrived: at(ms), left: at(ms + 60 * MINUTE_MS) };
    const fields = { event, well, crew: this.#crew, method: 'low-flow', outcome: 'sampled', ...times };
    yield this.#record(feed, 'visit', fields, { parent: event, visit }, visit);
    const setUp = { visit, pump: unit, intakeDepthFt: '35.0', observed: this.#observed(ms + 5 * MINUTE_MS) };
    yield this.#record(feed, 'pump-set-up', setUp, { parent: visit, visit });
    for (const [index, suite] of ['VOC', 'metals'].entries()) {
      const collected = at(ms + (50 + index) * MINUTE_MS);
      const sample = { visit, number: `S-${place}-${number}-${index}`, suites: [suite], collected };
      yield this.#record(feed, 'sample', sample, { parent: visit, visit });
    }
    if (number % RINSATE_EACH === 0) yield* this.#rinsate(unit, event, number, ms + 120 * MINUTE_MS);
  }

  *#rinsate(unit: string, event: string, number: number, ms: number): Generator<YearRecord> {
    const [feed, id] = [`event:${event}`, v7()];
    const blank = { event, type: 'equipment', number: `EB-${number}`, unit, collected: at(ms), suites: ['VOC'] };
    yield this.#record(feed, 'blank', blank, { parent: event }, id);
    for (const analyte of ANALYTES) {
      const found = { analyte, unit: 'ug/L', reportingLimit: '0.5', condition: 'not-detected' };
      const result = { event, blank: id, ...found, observed: this.#observed(ms + 20 * DAY_MS) };
      yield this.#record(feed, 'laboratory-result', result, { parent: event });
    }
  }

  *#decon(unit: string, number: number, ms: number): Generator<YearRecord> {
    const id = v7();
    const steps = (deconProtocol(PROTOCOL)?.steps ?? []).filter(({ when }) => when === undefined);
    const times = { began: at(ms), ended: at(ms + 40 * MINUTE_MS), observed: this.#observed(ms) };
    yield this.#record(
      'firm',
      'decon',
      { unit, protocol: PROTOCOL, against: ['organics'], wasteTo: 'Drum 3', ...times },
      { parent: unit },
      id,
    );
    for (const [index, { id: step, fluids }] of steps.entries()) {
      const fluid = fluids[0] === undefined ? {} : { fluid: fluids[0], lot: 'L-12' };
      const observed = this.#observed(ms + (5 + index * 5) * MINUTE_MS);
      yield this.#record('firm', 'decon-step', { decon: id, step, done: true, ...fluid, observed }, { parent: id });
    }
    if (number % TUBING_EACH === 0) yield* this.#tubing(unit, number, ms + 45 * MINUTE_MS);
  }

  *#tubing(unit: string, number: number, ms: number): Generator<YearRecord> {
    const id = v7();
    yield this.#record('firm', 'part', { type: 'tubing', label: `Reel ${number}`, lot: `T-${number}` }, {}, id);
    const change = { unit, part: id, action: 'installed', observed: this.#observed(ms) };
    yield this.#record('firm', 'part-change', change, { parent: unit });
  }

  /** Everything that was recorded, unit by unit. */
  *work(): Generator<YearRecord> {
    for (const unit of this.units) {
      yield* this.#decon(unit, 1, BEGUN_MS - 120 * MINUTE_MS);
      for (let number = 0; number < this.#size.stays; number += 1) {
        const ms = BEGUN_MS + Math.floor(number / 2) * DAY_MS + (number % 2) * 240 * MINUTE_MS;
        yield* this.#stay(unit, number, ms);
        // now and then nobody cleaned it, so that there is something to follow
        if (number % 97 !== 50) yield* this.#decon(unit, number, ms + 70 * MINUTE_MS);
      }
    }
  }
}
