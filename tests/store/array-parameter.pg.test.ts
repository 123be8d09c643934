import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  bigintArray,
  booleanArray,
  byteaArray,
  integerArray,
  textArray,
  uuidArray,
} from '../../src/store/write/array-parameter.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase({ poolSize: 1 });
});

afterAll(() => db?.drop());

/** What the database reads from an array, element by element. */
async function readBack(type: string, parameter: unknown): Promise<unknown[]> {
  const text = `select element, ordinality from unnest($1::${type}[]) with ordinality as r(element, ordinality)`;
  const { rows } = await db.pool.query<{ element: unknown }>(text, [parameter]);
  return rows.map((row) => row.element);
}

function orNull<Value>(value: fc.Arbitrary<Value>): fc.Arbitrary<(Value | null)[]> {
  return fc.array(fc.option(value, { freq: 4 }), { maxLength: 40 });
}

async function expectKept<Value>(type: string, values: fc.Arbitrary<Value>, write: (of: (Value | null)[]) => unknown) {
  const property = fc.asyncProperty(orNull(values), async (given) => {
    expect(await readBack(type, write(given))).toEqual(given);
  });
  await fc.assert(property, { numRuns: process.env.LONG ? 1_000 : 100 });
}

/** Text that a database can hold: no NUL, no half of a surrogate pair. */
const storable = fc.string({ unit: 'binary' }).filter((text) => !text.includes('\0') && text.isWellFormed());

describe('an array as the database writes it itself is read as what went in', () => {
  it('texts, with quotes, backslashes, braces and the word NULL', async () => {
    await expectKept('text', fc.oneof(storable, fc.constantFrom('', 'NULL', '"', '\\', '{}', ',', 'µ😀')), textArray);
  });

  it('whole numbers', async () => {
    await expectKept('bigint', fc.maxSafeInteger(), bigintArray);
    await expectKept('integer', fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }), integerArray);
  });

  it('yes and no', async () => {
    await expectKept('boolean', fc.boolean(), booleanArray);
  });

  it('bytes', async () => {
    const bytes = fc.uint8Array({ maxLength: 64 }).map((array) => Buffer.from(array));
    await expectKept('bytea', bytes, byteaArray);
  });

  it('UUIDs', async () => {
    await expectKept('uuid', fc.uuid(), uuidArray);
    expect(await readBack('uuid', uuidArray(['0189ABCD-0000-7000-8000-00000000ABCD']))).toEqual([
      '0189abcd-0000-7000-8000-00000000abcd',
    ]);
  });
});

describe('what is no UUID', () => {
  it('is left to the database to refuse, with the words that it has for it', async () => {
    for (const wrong of ['undefined', '', randomUUID().replaceAll('-', '_'), `${randomUUID().slice(0, 35)}g`]) {
      expect(uuidArray([randomUUID(), wrong])).toEqual([expect.any(String), wrong]);
      await expect(readBack('uuid', uuidArray([wrong]))).rejects.toMatchObject({ code: '22P02' });
    }
  });

  it('is told from a UUID by every one of its characters', () => {
    const id = randomUUID();
    const spoilt = fc.tuple(fc.nat(35), fc.constantFrom('g', '-', ' ', 'é', ':', '@', '`', '/'));
    const property = fc.property(spoilt, ([at, character]) => {
      const text = id.slice(0, at) + character + id.slice(at + 1);
      expect(Buffer.isBuffer(uuidArray([text]))).toBe(text === id);
    });
    fc.assert(property);
  });
});
