import { validate, version } from 'uuid';
import { expect, it } from 'vitest';
import { uuidV7Maker } from '../../src/client/uuid-v7-maker.ts';
import { id } from '../../src/protocol/primitives.ts';
import { seededBytes } from './fake/phone.ts';

it('makes ids of version 7 that carry the injected time, as in RFC 9562, A.6', () => {
  // The time of the RFC's example: 2022-02-22T19:22:22.000Z.
  const make = uuidV7Maker({ nowMs: () => 0x017f22e279b0, randomBytes: seededBytes(1) });
  const made = make();
  expect(made.slice(0, 15)).toBe('017f22e2-79b0-7');
  expect(validate(made) && version(made) === 7).toBe(true);
  expect(id.safeParse(made).success).toBe(true);
});

it('sorts in the order of making, within one millisecond and over a day', () => {
  let nowMs = Date.parse('2026-05-04T15:00:00Z');
  const make = uuidV7Maker({ nowMs: () => nowMs, randomBytes: seededBytes(7) });
  const made = Array.from({ length: 2_000 }, (_, at) => {
    if (at % 10 === 0) nowMs += 1;
    return make();
  });
  expect(made).toEqual([...made].sort());
  expect(new Set(made).size).toBe(2_000);
});

it('makes readable, distinct ids also when the clock is before 1970 or goes back', () => {
  const clocks = [-1, -1, 5, 4, 5, 4, Number.MAX_SAFE_INTEGER % 2 ** 48];
  let at = 0;
  const make = uuidV7Maker({ nowMs: () => clocks[at++] ?? 0, randomBytes: seededBytes(3) });
  const made = clocks.map(() => make());
  expect(new Set(made).size).toBe(clocks.length);
  for (const one of made) expect(id.safeParse(one).success).toBe(true);
});
