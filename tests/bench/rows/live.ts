import { setTimeout as sleep } from 'node:timers/promises';
import { issueToken } from '../../../src/writes/set-up-firm.ts';
import { startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import type { Ground } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { Reader } from '../readings.ts';
import type { Round, Row } from '../row.ts';
import { Listeners } from '../sides/listeners.ts';

const LISTENERS = 1_000;
const STREAMS_PER_TOKEN = 8;
const COMMITS = 20;
/** Between two commits, so that none is told together with the one before. */
const PAUSE_MS = 60;

/** The bare server, and who may listen at ours. */
export interface LiveSides {
  readonly bareUrl: string;
  readonly headers: readonly string[];
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
  return { bareUrl: child.url, headers: await tokens(ground) };
}

async function tailOf(ground: Ground): Promise<number> {
  const text = `select max(seq)::int as tail from ledger where firm = '${ground.firm.firm.id}' and feed = '${ground.firm.feed}'`;
  const [row] = await ground.postgres.query(text, ground.database.name);
  return Number(row?.tail);
}

function p99(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length * 0.99)] ?? Number.NaN;
}

/** From the moment that a reading is known to be committed, by the answer or the first who is told, until each was told. */
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
    const { answeredMs, heardMs } = await own.told(next, send);
    const committedMs = Math.min(answeredMs, ...heardMs);
    took.push(...heardMs.map((ms) => ms - committedMs));
    await sleep(PAUSE_MS);
  }
  connection.close();
  return p99(took);
}

/** From the moment that the same event is sent until each of the thousand was told. */
async function bareRound(ground: Ground, bare: Listeners, bareUrl: string): Promise<number> {
  const connection = await HttpConnection.open(bareUrl);
  const took: number[] = [];
  const first = (await tailOf(ground)) + 1;
  for (let tail = first; tail < first + COMMITS; tail++) {
    const text = `event: tail\ndata: ${JSON.stringify({ feed: ground.firm.feed, tail })}\n\n`;
    const { begunMs, heardMs } = await bare.told(tail, () => connection.ask('POST', '/', '', Buffer.from(text)));
    took.push(...heardMs.map((ms) => ms - begunMs));
    await sleep(PAUSE_MS);
  }
  connection.close();
  return p99(took);
}

/** Both sides keep their thousand open; they go with the round, so that no other row pays for them. */
export async function liveRound(ground: Ground, { bareUrl, headers }: LiveSides): Promise<Round> {
  const path = `/v1/sync/stream?feeds=${encodeURIComponent(ground.firm.feed)}`;
  const own = await Listeners.open({ url: ground.server.url, path, headers, count: LISTENERS });
  const bare = await Listeners.open({ url: bareUrl, path: '/', headers: [''], count: LISTENERS });
  try {
    const ownMs = await ownRound(ground, own);
    return { own: ownMs, other: await bareRound(ground, bare, bareUrl) };
  } finally {
    own.close();
    bare.close();
  }
}

export function liveRow(rounds: readonly Round[]): Row {
  return {
    name: `commit to ${LISTENERS.toLocaleString('en')} live listeners, p99`,
    against: 'bare Node SSE',
    unit: 'ms',
    measure: 'time',
    target: 2,
    rounds,
  };
}
