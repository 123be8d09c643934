import { v7 } from 'uuid';

export interface IdSource {
  /** Milliseconds since 1970 by the device's clock. */
  nowMs(): number;
  randomBytes(count: number): Uint8Array;
}

function randomStart(random: Uint8Array): number {
  const [a = 0, b = 0, c = 0, d = 0] = random.subarray(6, 10);
  return ((a & 0x7f) << 24) | (b << 16) | (c << 8) | d;
}

/**
 * Makes UUIDs of version 7 (RFC 9562, 5.7) from an injected clock and injected chance. Within one millisecond they
 * count up from a random start, so that ids made by one device sort in the order in which they were made.
 */
export function uuidV7Maker(source: IdSource): () => string {
  let lastMs = -1;
  let counter = 0;
  return () => {
    const random = source.randomBytes(16);
    // A clock before 1970 would wrap around; the id then says 1970 and is told apart by chance alone.
    const nowMs = Math.max(0, Math.floor(source.nowMs()));
    counter = nowMs === lastMs ? (counter + 1) | 0 : randomStart(random);
    lastMs = nowMs;
    return v7({ msecs: nowMs, seq: counter, random });
  };
}
