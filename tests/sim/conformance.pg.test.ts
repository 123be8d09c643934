import type { FastifyInstance } from 'fastify';
import pino from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openApp } from '../../src/app.ts';
import { openRecords } from '../../src/store/records.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import type { Actor } from '../../src/writes/batch.ts';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { ENTERED_BY, enterFirm, FIRM, START_MS } from './base-firm.ts';
import { CALM } from './features.ts';
import { heal } from './heal.ts';
import type { Asked, Said } from './model/door.ts';
import type { Tables } from './model/tables.ts';
import { play } from './play.ts';
import { World } from './world.ts';

interface Heard {
  readonly actor: Actor;
  readonly asked: Asked;
  readonly said: Said;
  readonly atMs: number;
}

/** A world with everything in it; what the model was asked and said. */
async function record(seed: number): Promise<{ readonly heard: Heard[]; readonly world: World }> {
  const heard: Heard[] = [];
  const features = { phones: 4, steps: 90, network: 0.25, voids: true, rehomes: true, claims: true, resolves: true };
  const more = {
    moves: true,
    poison: true,
    waits: true,
    lyingClocks: true,
    deaths: true,
    bootstraps: true,
    damage: true,
  };
  let now = () => START_MS;
  const left = (actor: Actor, asked: Asked, said: Said) => void heard.push({ actor, asked, said, atMs: now() });
  const world = await World.open(seed, { ...CALM, ...features, ...more }, { network: { left, together: false } });
  now = () => world.timeline.nowMs;
  await play(world);
  await heal(world);
  expect(world.findings.list).toEqual([]);
  return { heard, world };
}

interface RealServer {
  readonly db: TestDatabase;
  ask(heard: Heard): Promise<Said>;
  close(): Promise<void>;
}

async function asked(app: FastifyInstance, secret: string, { path, body }: Asked): Promise<Said> {
  const url = `/v1/sync/${path}`;
  const authorization = `Bearer ${secret}`;
  const ndjson = 'application/x-ndjson';
  const answer =
    body === null
      ? await app.inject({ method: 'GET', url, headers: { authorization } })
      : await app.inject({ method: 'POST', url, headers: { authorization, 'content-type': ndjson }, payload: body });
  return { status: answer.statusCode, text: answer.body, retryAfter: null };
}

/** The real server over PostgreSQL, with the firm, the epoch and the tokens of the model, at the time of the model. */
async function openReal(tables: Tables): Promise<RealServer> {
  const db = await testDatabase();
  let nowMs = START_MS;
  const now = () => new Date(nowMs);
  const { epoch, cursorKey } = tables.installation;
  await (await db.owner()).query('update installation set epoch = $1, cursor_key = $2', [epoch, cursorKey]);
  const lane = openLane({ pool: db.pool, now, committed: () => undefined });
  const records = openRecords(db.pool);
  const app = await openApp({ pool: db.pool, records, lane, now }, pino({ level: 'silent' }));
  await app.ready();
  const secrets = new Map<string, string>();
  const secretOf = async ({ firm, token: id, role, device }: Pick<Actor, 'firm' | 'token' | 'role' | 'device'>) => {
    const secret = secrets.get(id) ?? newSecret();
    const createdAt = new Date(START_MS).toISOString();
    const row = { firm, id, hash: secretHash(secret), label: role, role, device, createdAt, expiresAt: null };
    if (!secrets.has(id)) await insertToken(db.pool, row);
    secrets.set(id, secret);
    return secret;
  };
  await secretOf(ENTERED_BY);
  await enterFirm(lane, 6);
  return {
    db,
    async ask({ actor, asked: question, atMs }) {
      nowMs = atMs;
      return asked(app, await secretOf(actor), question);
    },
    async close() {
      await app.close();
      await records.close();
      await db.drop();
    },
  };
}

let heard: Heard[];
let world: World;
let real: RealServer;

beforeAll(async () => {
  ({ heard, world } = await record(7));
  real = await openReal(world.server.tables);
}, 120_000);
afterAll(() => real?.close());

/** Two bags of rows; nothing where they are the same. */
function firstDifference(real: readonly string[], own: readonly string[]): string {
  const [here, there] = [new Set(real), new Set(own)];
  const missing = own.find((row) => !here.has(row));
  const over = real.find((row) => !there.has(row));
  if (missing === undefined && over === undefined && real.length === own.length) return '';
  return `${real.length} and ${own.length} rows; the model alone has ${missing?.slice(0, 600)}; PostgreSQL ${over?.slice(0, 600)}`;
}

/** A problem carries the id of its request. */
function comparable({ status, text }: Said): string {
  return `${status} ${text.replace(/"requestId":"[^"]*"/, '"requestId":""')}`;
}

it('the server over PostgreSQL says the same to the byte as its model in memory, whatever it is asked', async () => {
  expect(heard.length).toBeGreaterThan(150);
  for (const [index, one] of heard.entries()) {
    const said = await real.ask(one);
    expect(`${index} ${one.asked.path}\n${comparable(said)}`).toBe(
      `${index} ${one.asked.path}\n${comparable(one.said)}`,
    );
  }
}, 120_000);

it('and stores the same: every row of the ledger with its hashes, every head, every receipt, every line set aside', async () => {
  const { tables } = world.server;
  const rows = async (text: string) =>
    (await real.db.bypass.query<{ row: string }>(text)).rows.map(({ row }) => row).sort();
  const ledger = await rows(
    `select concat_ws(' ', feed, seq, rev, state::text, encode(content_hash, 'hex'), encode(history_hash, 'hex')) as row from ledger`,
  );
  const own = [...tables.ledger.values()].map(({ feed, seq, rev, state, contentHash, historyHash }) =>
    [feed, seq, rev, state, contentHash.toString('hex'), historyHash.toString('hex')]
      .filter((part) => part !== null)
      .join(' '),
  );
  expect(firstDifference(ledger, own)).toBe('');
  const heads = await rows(`select concat_ws(' ', feed, id, seq, gone) as row from head`);
  const ownHeads = [...tables.heads.values()].map(
    ({ feed, id, seq, gone }) => `${feed} ${id} ${seq} ${gone ? 't' : 'f'}`,
  );
  expect(firstDifference(heads, ownHeads)).toBe('');
  const receipts = await rows(`select concat_ws(' ', client, mutation, outcome) as row from receipt`);
  const ownReceipts = [...tables.receipts.values()].map((one) => `${one.client} ${one.mutation} ${one.outcome}`);
  expect(firstDifference(receipts, ownReceipts)).toBe('');
  const setAside = await rows(`select concat_ws(' ', id, standing, encode(raw, 'hex')) as row from set_aside`);
  const ownSetAside = [...tables.setAside.values()].map(
    (one) => `${one.id} ${one.standing} ${one.raw.toString('hex')}`,
  );
  expect(firstDifference(setAside, ownSetAside)).toBe('');
  expect(await recompute(real.db.pool, FIRM)).toEqual([]);
});
