import {
  ASYMMETRIC_MATCHERS_OBJECT,
  customMatchers,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from '@vitest/expect';
import * as spies from '@vitest/spy';
import * as chai from 'chai';

// What the test files that also run in a page ask of vitest, which itself needs Node: the same matchers and spies.

interface Case {
  readonly name: string;
  readonly run: () => unknown;
}

const cases: Case[] = [];
const afterEachCase: (() => unknown)[] = [];

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export const expect = Object.assign((value: unknown, message?: string) => chai.expect(value, message), chai.expect);
Object.assign(expect, (globalThis as Record<symbol, object>)[ASYMMETRIC_MATCHERS_OBJECT]);
(expect as unknown as { extend(of: object, matchers: object): void }).extend(expect, customMatchers);

export const vi = spies;

export function it(name: string, run: () => unknown): void {
  cases.push({ name, run });
}

export function describe(_name: string, say: () => void): void {
  say();
}

export function afterEach(run: () => unknown): void {
  afterEachCase.push(run);
}

/** How a case ended: null for well. */
export interface Ended {
  readonly name: string;
  readonly fault: string | null;
}

async function ended({ name, run }: Case): Promise<Ended> {
  try {
    await run();
    for (const after of afterEachCase) await after();
    return { name, fault: null };
  } catch (error) {
    return { name, fault: error instanceof Error ? `${error.message}\n${error.stack}` : String(error) };
  }
}

/** One after the other. */
export async function runAll(): Promise<Ended[]> {
  const all: Ended[] = [];
  for (const one of cases) all.push(await ended(one));
  return all;
}
