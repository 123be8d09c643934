import { v7 } from 'uuid';
import { type BenchFirm, localTime, type OpenPurge, type Phone } from './bench-firm.ts';

export const READINGS_PER_PURGE = 50;
export const READING_INTERVAL_MS = 300_000;

/** A push, ready to be sent: making it costs the load time that is not the server's. */
export interface Push {
  readonly body: Buffer;
  readonly mutations: number;
}

/** Small chance that is the same in every run. */
function jitter(index: number, salt: number): number {
  const value = Math.sin(index * 12.9898 + salt * 78.233) * 43_758.5453;
  return value - Math.floor(value) - 0.5;
}

/** Begins at `from`, comes to rest at `to`, and is never quite still. */
function drifting(index: number, salt: number, from: number, to: number, noise: number): number {
  return to + (from - to) * Math.exp(-(index % READINGS_PER_PURGE) / 6) + jitter(index, salt) * noise;
}

/** What a crew writes down of one moment: every parameter, the flow and the level. */
export function valuesAt(index: number) {
  return {
    temperatureC: drifting(index, 1, 15.2, 12.1, 0.1).toFixed(1),
    ph: drifting(index, 2, 6.4, 6.92, 0.06).toFixed(2),
    specificConductanceUsPerCm: drifting(index, 3, 590, 512, 8).toFixed(0),
    dissolvedOxygenMgPerL: drifting(index, 4, 4.2, 0.84, 0.06).toFixed(2),
    orpMv: drifting(index, 5, 160, 84.5, 6).toFixed(1),
    turbidityNtu: drifting(index, 6, 48, 3.2, 0.8).toFixed(1),
    flowMlPerMin: drifting(index, 7, 260, 200, 10).toFixed(0),
    depthToWaterFt: drifting(index, 8, 21.3, 21.52, 0.02).toFixed(2),
    purgedMl: String((index % READINGS_PER_PURGE) * 1_000),
  };
}

/** The readings of one phone, in the order in which it made them. */
export class Reader {
  readonly #firm: BenchFirm;
  readonly #phone: Phone;
  readonly #purges: readonly OpenPurge[];
  #made = 0;

  constructor(firm: BenchFirm, phone: Phone, purges: readonly OpenPurge[]) {
    this.#firm = firm;
    this.#phone = phone;
    this.#purges = purges;
  }

  #line(): string {
    const index = this.#made++;
    const place = index % READINGS_PER_PURGE;
    const open = this.#purges[Math.floor(index / READINGS_PER_PURGE)];
    if (!open) throw new RangeError(`no purge is open for reading ${index}`);
    const wall = localTime(open.begunMs + place * READING_INTERVAL_MS);
    const observed = this.#firm.firm.observed(wall);
    const clock = { wall, monotonicMs: 86_400_000 + place * READING_INTERVAL_MS, boot: 'b7e1', sequence: index + 1 };
    const set = { purge: open.purge, meter: open.meter, ...valuesAt(index), observed };
    const { ann } = this.#firm.firm.ids;
    return JSON.stringify({
      mutationId: this.#phone.next++,
      verb: 'record',
      kind: 'reading',
      id: v7(),
      set,
      by: ann,
      clock,
    });
  }

  push(mutations: number): Push {
    const first = this.#phone.next;
    const lines = Array.from({ length: mutations }, () => this.#line());
    const sent = this.#sent();
    const pending = { count: 0, oldest: null };
    const header = {
      client: this.#phone.client,
      schemaVersion: 1,
      first,
      count: mutations,
      sent,
      roundTripMs: 180,
      pending,
    };
    return { body: Buffer.from(`${JSON.stringify(header)}\n${lines.join('\n')}\n`), mutations };
  }

  #sent() {
    const nowMs = Date.now();
    const begunMs = this.#purges[0]?.begunMs ?? nowMs;
    return { wall: localTime(nowMs), monotonicMs: 86_400_000 + nowMs - begunMs, boot: 'b7e1' };
  }

  pushes(count: number, mutations: number): Push[] {
    return Array.from({ length: count }, () => this.push(mutations));
  }
}
