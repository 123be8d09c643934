import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { kindNamed } from '../../src/protocol/kinds-by-name.ts';
import type { Outcome } from '../../src/protocol/mutation.ts';
import { same } from './answer-check.ts';
import { type Operation, operationsOf } from './api-document.ts';
import { type FuzzGround, fuzzGround } from './fuzz-ground.ts';
import { fuzzSeed, RUNS } from './fuzz-settings.ts';
import { type Push, type PushLine, pushesOf } from './push-arbitrary.ts';
import { type Answered, mustDo } from './speaker.ts';

let ground: FuzzGround;
let operation: Operation;
const outcomes = new Map<string, number>();

beforeAll(async () => {
  ground = await fuzzGround();
  const found = operationsOf(ground.document).find(({ operationId }) => operationId === 'push');
  if (!found) throw new Error('the document has no push');
  operation = found;
}, 120_000);
afterAll(() => ground.close());

function push(payload: Buffer): Promise<Answered> {
  const headers = { 'content-type': 'application/x-ndjson' };
  return ground.speakers.admin.ask({ method: 'POST', url: '/v1/sync/push', headers, payload });
}

/** What was taken is there as it was sent; what was not is kept byte for byte. */
async function lineFault(line: PushLine, outcome: Outcome): Promise<string | null> {
  const { admin } = ground.speakers;
  outcomes.set(outcome.outcome, (outcomes.get(outcome.outcome) ?? 0) + 1);
  if (outcome.setAside !== undefined) {
    const { raw } = await mustDo(admin, { method: 'GET', url: `/v1/set-asides/${outcome.setAside}` });
    return raw === line.bytes.toString('base64') ? null : `kept as ${String(raw)}`;
  }
  if (line.set === null || outcome.outcome === 'refused') return null;
  const { fields } = await mustDo(admin, { method: 'GET', url: `/v1/${kindNamed(line.kind)?.plural}/${line.id}` });
  return same(fields, line.set) ? null : `recorded as ${JSON.stringify(fields)}`;
}

async function tryPush({ body, lines, whole, what }: Push): Promise<void> {
  const fail = (why: string) => {
    throw new Error(`${body.toString('latin1').slice(0, 3_000)} (header ${what}): ${why}`);
  };
  const answer = await push(body);
  const fault = ground.check.fault(operation, answer);
  if (fault !== null) fail(fault);
  if (answer.status !== 200) return whole ? fail(`${answer.status} ${answer.text}`) : undefined;
  const { outcomes: all } = JSON.parse(answer.text) as { outcomes: Outcome[] };
  if (all.length !== lines.length) fail(`${all.length} outcomes of ${lines.length} lines`);
  for (const [at, line] of lines.entries()) {
    const lost = await lineFault(line, all[at] as Outcome);
    if (lost !== null) fail(`line ${at + 1}: ${lost}`);
  }
  const again = JSON.parse((await push(body)).text) as { outcomes: Outcome[] };
  expect(again.outcomes).toEqual(all);
}

describe('a push', () => {
  it('[W9] [W10] [V3] of any lines is answered line by line: recorded as it was sent, or kept byte for byte', async () => {
    const seed = fuzzSeed();
    await fc.assert(fc.asyncProperty(pushesOf(ground), tryPush), { numRuns: RUNS.push, seed });
    console.info(`outcomes: ${JSON.stringify(Object.fromEntries(outcomes))}`);
    expect(outcomes.get('applied')).toBeGreaterThan(20);
    expect(outcomes.get('set_aside')).toBeGreaterThan(20);
    expect(ground.server.logged()).not.toContain('"level":50');
  }, 900_000);
});
