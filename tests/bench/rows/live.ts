import { setTimeout as sleep } from 'node:timers/promises';
import { issueToken } from '../../../src/writes/set-up-firm.ts';
import { startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import { type Ground, tailOf } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { Reader } from '../readings.ts';
import type { Round, Row } from '../row.ts';
import { Listeners } from '../sides/listeners.ts';

const LISTENERS = 1_000;
const STREAMS_PER_TOKEN = 8;
const COMMITS = 20;
/** Between two commits, so that none is told together with the one before. */
const PAUSE_MS = 60;
const NS_PER_MS = 1e6;

/** The bare server, and who may listen at ours. */
export interface LiveSides {
  readonly bareUrl: string;
  readonly headers: readonly string[];
  readonly inTurn: InTurn;
}

async function tokens(ground: Ground): Promise<string[]> {
  const { firm } = ground.firm;
  const wish = { label: 'Screen', role: 'dashboard', device: null } as const;
  const count = Math.ceil(LISTENERS / STREAMS_PER_TOKEN);
  const issued = await Promise.all(
    Array.from({ length: count }, () => issueToken(firm.pool, firm.id, wish, new Date())),
  );
  return issued.map(({ secret }) => `authorization: Bearer ${secret}\r\n`);
}

export async function openLive(cleanup: Cleanup, ground: Ground): Promise<LiveSides> {
  const child = await startChild(cleanup, 'tests/bench/sides/bare-sse-server.ts', {});
  return { bareUrl: child.url, headers: await tokens(ground), inTurn: alternating() };
}

/** By how much the wall clock is ahead of performance.now(), at the moment when it goes on to a new millisecond. */
function wallAheadMs(): number {
  const before = Date.now();
  let now = before;
  while (now === before) now = Date.now();
  return now - performance.now();
}

/** When the transaction of a row was committed, by the database: before its commit is on the disk. */
async function committedMs({ postgres, database, firm }: Ground, seq: number): Promise<number> {
  const text = `select (extract(epoch from pg_xact_commit_timestamp(xmin)) * 1000)::float8 as ms
    from ledger where firm = '${firm.firm.id}' and feed = '${firm.feed}' and seq = ${seq}`;
  const [row] = await postgres.query(text, database.name);
  if (typeof row?.ms !== 'number') throw new Error(`the database does not say when row ${seq} was committed`);
  return row.ms - wallAheadMs();
}

function p99(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length * 0.99)] ?? Number.NaN;
}

/** From the commit of a reading until each was told. */
async function ownRound(ground: Ground, own: Listeners): Promise<number> {
  const [phone] = ground.phones;
  if (!phone) throw new Error('nobody pushes');
  const pushes = new Reader(ground.firm, phone, await ground.firm.openPurges(1)).pushes(COMMITS, 1);
  const connection = await HttpConnection.open(ground.server.url);
  const took: number[] = [];
  for (const push of pushes) {
    const next = (await tailOf(ground)) + 1;
    const send = async () => {
      const { status, body } = await connection.ask('POST', '/v1/sync/push', phone.headers, push.body);
      if (status !== 200) throw new Error(`a push was answered ${status}: ${body.toString('utf8')}`);
    };
    const heardMs = await own.told(next, send);
    const fromMs = await committedMs(ground, next);
    took.push(...heardMs.map((ms) => ms - fromMs));
    await sleep(PAUSE_MS);
  }
  connection.close();
  return p99(took);
}

/** From the moment at which the bare server has the same event as a whole until each was told. */
async function bareRound(ground: Ground, bare: Listeners, bareUrl: string): Promise<number> {
  const connection = await HttpConnection.open(bareUrl);
  const took: number[] = [];
  const first = (await tailOf(ground)) + 1;
  for (let tail = first; tail < first + COMMITS; tail++) {
    const text = `event: tail\ndata: ${JSON.stringify({ feed: ground.firm.feed, tail })}\n\n`;
    let fromMs = Number.NaN;
    const heardMs = await bare.told(tail, async () => {
      const { body } = await connection.ask('POST', '/', '', Buffer.from(text));
      fromMs = sinceBootMs(body) - bootAheadMs();
    });
    took.push(...heardMs.map((ms) => ms - fromMs));
    await sleep(PAUSE_MS);
  }
  connection.close();
  return p99(took);
}

/** What the bare server answers: nanoseconds of the clock that all processes share. */
function sinceBootMs(body: Buffer): number {
  return Number(BigInt(body.toString('latin1'))) / NS_PER_MS;
}

function bootAheadMs(): number {
  return Number(process.hrtime.bigint()) / NS_PER_MS - performance.now();
}

/** Both sides keep their thousand open; they go with the round, so that no other row pays for them. */
export async function liveRound(ground: Ground, { bareUrl, headers, inTurn }: LiveSides): Promise<Round> {
  const path = `/v1/sync/stream?feeds=${encodeURIComponent(ground.firm.feed)}`;
  const own = await Listeners.open({ url: ground.server.url, path, headers, count: LISTENERS });
  const bare = await Listeners.open({ url: bareUrl, path: '/', headers: [''], count: LISTENERS });
  try {
    return await inTurn(
      () => ownRound(ground, own),
      () => bareRound(ground, bare, bareUrl),
    );
  } finally {
    own.close();
    bare.close();
  }
}

const FROM =
  'until a listener has heard: ours from the time of the commit in the database, before it is on the disk; theirs from when the bare server holds the event';

export function liveRow(rounds: readonly Round[]): Row {
  return {
    name: `commit to ${LISTENERS.toLocaleString('en')} live listeners, p99`,
    against: 'bare Node SSE',
    unit: 'ms',
    measure: 'time',
    target: 2,
    rounds,
    notes: rounds.length === 0 ? [] : [FROM],
  };
}
