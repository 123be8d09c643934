import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import { describe, expect, it } from 'vitest';
import { Doorbell } from '../../../src/store/live/doorbell.ts';
import { readDoorbell } from '../../../src/store/live/doorbell-text.ts';

const FIRM = '018f0000-0000-7000-8000-000000000001';
const OTHER = '018f0000-0000-7000-8000-000000000002';
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };

interface Query {
  readonly values: readonly [channel: string, texts: readonly string[]];
}

/** A database that notes what is said, and fails as often as it is told to. */
function database(failures = 0) {
  const said: string[][] = [];
  let left = failures;
  const query = async ({ values: [, texts] }: Query) => {
    await sleep(1);
    if (left-- > 0) throw new Error('Connection terminated');
    said.push([...texts]);
  };
  const heard = () => said.flat().map((text) => readDoorbell(text));
  return { pool: { query } as unknown as pg.Pool, said, heard };
}

describe('a doorbell', () => {
  it('is rung once for many commits that come together, with the last tail of each feed', async () => {
    const { pool, said, heard } = database();
    const doorbell = new Doorbell({ pool, log, everyMs: 30 });
    for (let tail = 1; tail <= 500; tail++) doorbell.ring(FIRM, new Map([['firm', tail]]));
    doorbell.ring(OTHER, new Map([['firm', 1]]));
    await expect.poll(() => said.length).toBe(1);
    doorbell.ring(FIRM, new Map([['firm', 499]]));
    doorbell.ring(FIRM, new Map([['site:x', 3]]));
    await expect.poll(() => said.length).toBe(2);
    expect(heard()).toEqual([
      { firm: FIRM, tails: new Map([['firm', 500]]) },
      { firm: OTHER, tails: new Map([['firm', 1]]) },
      {
        firm: FIRM,
        tails: new Map([
          ['firm', 499],
          ['site:x', 3],
        ]),
      },
    ]);
    await doorbell.close();
  });

  it('is rung in steps, however fast the commits come', async () => {
    const { pool, said } = database();
    const doorbell = new Doorbell({ pool, log, everyMs: 40 });
    const begunMs = performance.now();
    for (let tail = 1; performance.now() - begunMs < 200; tail++) {
      doorbell.ring(FIRM, new Map([['firm', tail]]));
      await sleep(1);
    }
    expect(said.length).toBeGreaterThan(1);
    expect(said.length).toBeLessThanOrEqual(6);
    await doorbell.close();
  });

  it('[L3] says again what it could not say, together with what came since', async () => {
    const { pool, said, heard } = database(2);
    const doorbell = new Doorbell({ pool, log, everyMs: 5 });
    doorbell.ring(FIRM, new Map([['firm', 7]]));
    await sleep(20);
    doorbell.ring(FIRM, new Map([['site:x', 2]]));
    await expect.poll(() => said.length, { timeout: 3_000 }).toBe(1);
    expect(heard()).toEqual([
      {
        firm: FIRM,
        tails: new Map([
          ['firm', 7],
          ['site:x', 2],
        ]),
      },
    ]);
    await doorbell.close();
  });

  it('[L3] says that anything may have happened where it is not known what was committed', async () => {
    const { pool, heard, said } = database();
    const doorbell = new Doorbell({ pool, log });
    doorbell.ring(FIRM, new Map([['firm', 7]]));
    doorbell.ring(FIRM, null);
    doorbell.ring(FIRM, new Map([['firm', 8]]));
    await expect.poll(() => said.length).toBe(1);
    expect(heard()).toEqual([{ firm: FIRM, tails: null }]);
    await doorbell.close();
  });

  it('[L7] says what is left before it falls silent, and does not wait long for a database that is gone', async () => {
    const { pool, heard } = database();
    const doorbell = new Doorbell({ pool, log, everyMs: 10_000 });
    doorbell.ring(FIRM, new Map([['firm', 1]]));
    await expect.poll(() => heard().length).toBe(1);
    doorbell.ring(FIRM, new Map([['firm', 2]]));
    await doorbell.close();
    doorbell.ring(FIRM, new Map([['firm', 3]]));
    expect(heard().map((sound) => sound?.tails?.get('firm'))).toEqual([1, 2]);
    const dead = new Doorbell({ pool: { query: () => new Promise(() => undefined) } as unknown as pg.Pool, log });
    dead.ring(FIRM, new Map([['firm', 1]]));
    const begunMs = performance.now();
    await dead.close();
    expect(performance.now() - begunMs).toBeLessThan(2_000);
  });
});
