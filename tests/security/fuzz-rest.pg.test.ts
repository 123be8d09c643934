import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lostOf } from './answer-check.ts';
import { operationsOf } from './api-document.ts';
import { type FuzzGround, fuzzGround } from './fuzz-ground.ts';
import { fuzzSeed, RUNS } from './fuzz-settings.ts';
import { type Request, requestsOf } from './request-arbitrary.ts';

let ground: FuzzGround;
/** How often each status came: what is only refused is not tried. */
const statuses = new Map<number, number>();

beforeAll(async () => {
  ground = await fuzzGround();
}, 120_000);
afterAll(() => ground.close());

/** Tries a request; what is wrong with the answer fails. */
async function tryOne(request: Request): Promise<void> {
  const { operation, role, url, headers, payload } = request;
  const { check, speakers } = ground;
  const body = payload === undefined ? {} : { payload };
  const answer = await speakers[role].ask({ method: operation.method, url, headers, ...body });
  statuses.set(answer.status, (statuses.get(answer.status) ?? 0) + 1);
  const fault = check.fault(operation, answer) ?? (await lostOf(request, answer, speakers.admin));
  if (fault === null) return;
  const asked = `${role}: ${operation.method} ${url} ${JSON.stringify(headers)} ${String(payload ?? '').slice(0, 2_000)}`;
  throw new Error(`${asked} (${request.what}): ${fault}`);
}

describe('every documented operation', () => {
  it('answers whatever is sent as it is documented, never with a fault of ours, and keeps what it took unchanged', async () => {
    const operations = operationsOf(ground.document).filter(({ takes }) => !takes.includes('application/x-ndjson'));
    const any = fc.constantFrom(...operations).chain((operation) => requestsOf(operation, ground));
    const seed = fuzzSeed();
    await fc.assert(fc.asyncProperty(any, tryOne), { numRuns: RUNS.rest, seed });
    console.info(`by status: ${JSON.stringify(Object.fromEntries([...statuses].sort()))}`);
    expect(operations.length).toBeGreaterThan(150);
    for (const status of [200, 201, 202, 400, 404, 422]) expect(statuses.get(status)).toBeGreaterThan(0);
    expect(ground.server.logged()).not.toContain('"level":50');
  }, 900_000);
});
