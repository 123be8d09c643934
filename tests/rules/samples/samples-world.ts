import type { RecordState } from '../../../src/protocol/record.ts';
import { derivedId } from '../../../src/rules/derived-id.ts';
import { type EventSamples, eventSamples } from '../../../src/rules/samples/event-samples.ts';

type Fields = Readonly<Record<string, unknown>>;

const NAMES = ['container', 'sample', 'blank', 'cooler', 'laboratory', 'visit', 'well', 'planned', 'event', 'site'];
const REFERENCES = [...NAMES, 'crew', 'of', 'readBy', 'writtenBy', 'splitWith', 'purge', 'tape', 'measuringPoint'];

/** The id of a record by the name that a test has for it. */
export function idOf(name: string): string {
  return derivedId('22222222-2222-4222-8222-222222222222', name);
}

function withIds(value: unknown, field = ''): unknown {
  if (typeof value === 'string') return REFERENCES.includes(field) ? idOf(value) : value;
  if (Array.isArray(value)) return value.map((one) => withIds(one));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, withIds(one, name)]));
}

/** The records of an event, made of few words: a name stands for an id, and what is not said is plain. */
export class SamplesWorld {
  readonly #states: RecordState[] = [];
  readonly #event: Fields;
  #next = 0;

  constructor(timeZone = 'America/Chicago', sampling: Fields = {}, more: Fields = {}) {
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', sampling };
    this.#event = {
      site: 'site-1',
      name: 'Round',
      starts: '2026-05-04',
      ends: '2026-05-08',
      standing: 'open',
      plan,
      ...more,
    };
    this.add('site', 'site-1', { name: 'Old Depot', timeZone });
  }

  add(kind: string, id: string, fields: Fields, more: Partial<RecordState> = {}): this {
    const plain = { rev: 1, voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
    this.#states.push({ kind, id: idOf(id), ...plain, fields: withIds(fields) as Fields, ...more });
    return this;
  }

  /** Monday to Friday, 09:00 to 17:00, by its own clocks. */
  laboratory(id = 'lab-1', more: Fields = {}): this {
    const days = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday'];
    const receiving = days.map((day) => ({ day, from: '09:00', until: '17:00' }));
    return this.add('laboratory', id, { name: 'Example Laboratory', timeZone: 'America/Chicago', receiving, ...more });
  }

  suite(name: string, groups: readonly Fields[], more: Fields = {}): this {
    return this.add('analyte-suite', `suite-${name}`, { name, groups, ...more });
  }

  /** A well with a visit and a sample of it. */
  sampled(well: string, suites: readonly string[], collected: string, more: Fields = {}): this {
    this.add('well', well, { site: 'site-1', name: well, standing: 'in-service', depthsFrom: 'ground' });
    const visit = { event: 'event-1', well, crew: 'crew-1', method: 'low-flow', arrived: collected };
    this.add('visit', `visit-${well}`, visit);
    return this.add('sample', `sample-${well}`, {
      visit: `visit-${well}`,
      number: `S-${well}`,
      suites,
      collected,
      ...more,
    });
  }

  bottle(id: string, group: string, more: Fields = {}): this {
    const plain = { event: 'event-1', group, type: 'bottle', volumeMl: '125', label: id, standing: 'filled' };
    return this.add('container', id, { ...plain, ...more });
  }

  fill(container: string, collected: string, more: Fields = {}): this {
    this.#next += 1;
    const observed = { at: collected, entered: collected, captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
    return this.add('fill', `fill-${this.#next}`, { container, collected, observed, ...more });
  }

  samples(): EventSamples {
    const event = { kind: 'event', id: idOf('event-1'), rev: 1, voided: null, by: null, client: null, mutation: null };
    return eventSamples({ ...event, reason: null, clock: null, fields: withIds(this.#event) as Fields }, this.#states);
  }
}
