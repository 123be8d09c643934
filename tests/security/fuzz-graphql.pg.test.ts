import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CODES } from '../../src/protocol/codes.ts';
import { type FuzzGround, fuzzGround } from './fuzz-ground.ts';
import { fuzzSeed, RUNS } from './fuzz-settings.ts';
import { type GraphRequest, graphRequests } from './graph-arbitrary.ts';

let ground: FuzzGround;
const told = new Map<string, number>();

beforeAll(async () => {
  ground = await fuzzGround();
}, 120_000);
afterAll(() => ground.close());

interface GraphBody {
  readonly data?: Readonly<Record<string, unknown>> | null;
  readonly errors?: readonly { readonly message: string; readonly extensions: { readonly code: string } }[];
}

/** What is wrong with an answer; null where it has the form of GraphQL, and every error a code of the registry. */
function faultOf(status: number, type: string, text: string): string | null {
  if (status >= 500 || !type.startsWith('application/json')) return `${status} ${type}: ${text.slice(0, 500)}`;
  const { data, errors = [] } = JSON.parse(text) as GraphBody;
  if (data === undefined && errors.length === 0) return `neither data nor errors: ${text.slice(0, 500)}`;
  for (const { extensions } of errors) told.set(extensions.code, (told.get(extensions.code) ?? 0) + 1);
  if (data && errors.length === 0) told.set('answered', (told.get('answered') ?? 0) + 1);
  const unknown = errors.filter(({ extensions: { code } }) => code === 'internal' || !Object.hasOwn(CODES, code));
  return unknown.length === 0 ? null : JSON.stringify(unknown);
}

async function tryOne({ body, what }: GraphRequest): Promise<void> {
  const { status, headers, text } = await ground.speakers.admin.ask({ method: 'POST', url: '/graphql', payload: body });
  const fault = faultOf(status, String(headers['content-type']), text);
  if (fault !== null) throw new Error(`${String(body).slice(0, 3_000)} (${what}): ${fault}`);
}

describe('every field of the schema', () => {
  it('answers whatever is asked in the form of GraphQL, never with a fault of ours', async () => {
    const seed = fuzzSeed();
    await fc.assert(fc.asyncProperty(graphRequests(ground), tryOne), { numRuns: RUNS.graphql, seed });
    console.info(`by code: ${JSON.stringify(Object.fromEntries(told))}`);
    expect(told.get('answered')).toBeGreaterThan(0);
    expect(ground.server.logged()).not.toContain('"level":50');
  }, 900_000);
});
