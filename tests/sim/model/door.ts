import type pg from 'pg';
import { problemBody, problemOf } from '../../../src/doors/answer-problem.ts';
import { refused } from '../../../src/doors/sync/push.ts';
import { readPush } from '../../../src/doors/sync/read-push.ts';
import { Problem } from '../../../src/protocol/problem.ts';
import { SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { feedList } from '../../../src/reads/feed-list.ts';
import { feedPage } from '../../../src/reads/feed-page.ts';
import { feedVerify } from '../../../src/reads/feed-verify.ts';
import { notePull } from '../../../src/store/write/token-rows.ts';
import type { Actor, Answer, Batch } from '../../../src/writes/batch.ts';

export interface Asked {
  readonly method: 'GET' | 'POST';
  /** What follows `/v1/sync/`, with its query. */
  readonly path: string;
  readonly body: string | null;
}

export interface Said {
  readonly status: number;
  readonly text: string;
  readonly retryAfter: string | null;
}

export interface DoorContext {
  readonly pool: pg.Pool;
  readonly lane: (batch: Batch) => Promise<Answer>;
  readonly now: () => string;
  /** Rows of a page at most, however many are asked for. */
  readonly pageRows: number;
  /** Told of what is a fault of the server itself. */
  readonly fault: (error: unknown) => void;
}

async function push(ctx: DoorContext, actor: Actor, asked: Asked, carried: boolean): Promise<string> {
  const batch = readPush(Buffer.from(asked.body ?? ''), actor, carried);
  const answer = await ctx.lane(batch);
  if (answer.status !== 'answered') throw refused(answer, batch);
  const { lastMutation, durable, outcomes } = answer;
  const head = `{"client":"${batch.client}","lastMutation":${lastMutation},"durable":${durable}`;
  return `${head},"serverTime":"${ctx.now()}","outcomes":[${outcomes.join(',')}]}`;
}

async function feeds(ctx: DoorContext, actor: Actor, query: Query): Promise<string> {
  const now = ctx.now();
  const { firm, token } = actor;
  const client = query('client');
  const note = { token, schemaVersion: SCHEMA_VERSION, now, seen: query('seen'), formerly: query('formerly') };
  if (client !== null) await notePull(ctx.pool, firm, { client, ...note });
  return JSON.stringify(await feedList(ctx.pool, actor, client, now));
}

type Query = (name: string) => string | null;

async function answerTo(ctx: DoorContext, actor: Actor, asked: Asked): Promise<string> {
  const url = new URL(asked.path, 'http://server/');
  const query: Query = (name) => url.searchParams.get(name);
  if (url.pathname === '/push') return push(ctx, actor, asked, query('carried') === 'true');
  if (url.pathname === '/feeds') return feeds(ctx, actor, query);
  const [, feed = '', what] = /^\/feeds\/([^/]+)\/(rows|verify)$/.exec(url.pathname) ?? [];
  const name = decodeURIComponent(feed);
  if (what === 'verify') return JSON.stringify(await feedVerify(ctx.pool, actor, name, query('prefix') ?? ''));
  if (what !== 'rows') throw new Problem('not_found', `${asked.path} is no address here`);
  const limit = Math.min(Number(query('limit')), ctx.pageRows);
  return feedPage(ctx.pool, actor, { feed: name, cursor: query('cursor'), limit, client: query('client') });
}

/** The sync door without HTTP: what it reads and says is the project's, only the routes are told apart here. */
export async function askDoor(ctx: DoorContext, actor: Actor, asked: Asked): Promise<Said> {
  try {
    return { status: 200, text: await answerTo(ctx, actor, asked), retryAfter: null };
  } catch (error) {
    const problem = problemOf(error);
    if (problem.code === 'internal') ctx.fault(error);
    const retryAfter = problem.status === 503 ? '1' : null;
    return { status: problem.status, text: JSON.stringify(problemBody(problem, 'simulated')), retryAfter };
  }
}
