import { afterAll, beforeAll, expect, test } from 'vitest';
import { safeInteger, utcInstant } from '../../src/store/type-parsers.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await testDatabase({ migrations: `${import.meta.dirname}/../fixtures/migrations/gauge` });
});
afterAll(() => database.drop());

const one = async (expression: string): Promise<unknown> =>
  (await database.pool.query(`select ${expression} as value`)).rows[0].value;

test('a bigint is a number, also in an array and from count', async () => {
  expect(await one('9007199254740991::bigint')).toBe(9007199254740991);
  expect(await one('array[1, null, -2]::bigint[]')).toEqual([1, null, -2]);
  expect(await one('count(*)')).toBe(1);
});

test('a bigint that a number cannot say is an error, never a rounded value; the pool goes on', async () => {
  await expect(one('9007199254740993::bigint')).rejects.toThrow(/9007199254740993/);
  expect(await one("'9007199254740993'::bigint::text")).toBe('9007199254740993');
});

test('a numeric keeps its digits', async () => {
  expect(await one('7.10::numeric')).toBe('7.10');
});

test('an instant keeps its microseconds and is in UTC, whatever the session was told', async () => {
  expect(await one("'2026-03-29 03:30:00.123456+02'::timestamptz")).toBe('2026-03-29T01:30:00.123456Z');
  expect(await one("'2026-03-29'::date")).toBe('2026-03-29');
  expect(utcInstant('infinity')).toBe('infinity');
});

test('what is no whole number is refused', () => {
  expect(() => safeInteger('1e400')).toThrow(RangeError);
});
