import { type FieldClient, openClient } from '../../../src/client/client.ts';
import { httpTransport } from '../../../src/client/http-transport.ts';
import { memoryStore } from '../../../src/client/memory-store.ts';
import type { ClientStore } from '../../../src/client/store.ts';
import { uuidV7Maker } from '../../../src/client/uuid-v7-maker.ts';
import type { FakeServer } from './server.ts';

const START_MS = Date.parse('2026-05-04T10:00:00-05:00');

/** The clock of a simulated day. */
export class SimClock {
  nowMs = START_MS;
  boot = 'boot-1';

  pass(ms: number): void {
    this.nowMs += ms;
  }

  wall(): string {
    return `${new Date(this.nowMs - 5 * 3_600_000).toISOString().slice(0, 23)}-05:00`;
  }

  monotonicMs(): number {
    return this.nowMs - START_MS + 1_000;
  }
}

/** Chance from a seed (xorshift), so that every run makes the same ids. */
export function seededBytes(seed: number): (count: number) => Uint8Array {
  let state = seed * 2_654_435_761 + 1;
  return (count) =>
    Uint8Array.from({ length: count }, () => {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      return state & 0xff;
    });
}

export interface PhoneOptions {
  readonly server: FakeServer;
  readonly clock: SimClock;
  readonly seed: number;
  readonly token?: string;
  readonly store?: ClientStore;
  readonly recountEvery?: number;
}

export function openPhone({ server, clock, seed, ...options }: PhoneOptions): Promise<FieldClient> {
  const { token = `token-${seed}`, store = memoryStore(), recountEvery = 2 } = options;
  return openClient({
    store,
    transport: httpTransport({ base: 'http://fake', token, fetch: server.fetch }),
    time: clock,
    newId: uuidV7Maker({ nowMs: () => clock.nowMs, randomBytes: seededBytes(seed) }),
    recountEvery,
  });
}
