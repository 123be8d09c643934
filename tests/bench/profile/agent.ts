import { Session } from 'node:inspector/promises';
import pg from 'pg';
import { type FunctionTime, functionTimes } from './function-times.ts';

/** Statements by name, and where the processor was, in a server that is measured. */
export interface ProfileFound {
  readonly elapsedMs: number;
  /** Processor time of the server's process, all threads. */
  readonly processorMs: number;
  readonly statements: readonly { readonly name: string; readonly count: number; readonly ms: number }[];
  readonly functions: readonly FunctionTime[];
}

interface Running {
  readonly session: Session;
  readonly statements: Map<string, { count: number; ms: number }>;
  readonly begunMs: number;
  readonly processor: NodeJS.CpuUsage;
  readonly restore: () => void;
}

let running: Running | null = null;

type Query = (this: unknown, ...given: unknown[]) => unknown;

function nameOf(query: unknown): string {
  if (typeof query === 'string') return query.trim().slice(0, 28).split('\n')[0] ?? '';
  const { name, text } = query as { name?: string; text?: string };
  return name ?? nameOf(text ?? '?');
}

/** Counts the time between a statement's start and its answer; other statements may run beside it. */
function watchStatements(statements: Running['statements']): () => void {
  const prototype = pg.Client.prototype as unknown as { query: Query };
  const { query } = prototype;
  prototype.query = function (this: unknown, ...given: unknown[]) {
    const begun = performance.now();
    const name = nameOf(given[0]);
    const note = () => {
      const entry = statements.get(name) ?? { count: 0, ms: 0 };
      statements.set(name, { count: entry.count + 1, ms: entry.ms + performance.now() - begun });
    };
    const last = given.at(-1);
    if (typeof last === 'function') {
      given[given.length - 1] = (...answer: unknown[]) => {
        note();
        last(...answer);
      };
    }
    const result = query.apply(this, given);
    if (result instanceof Promise) result.then(note, note);
    return result;
  };
  return () => {
    prototype.query = query;
  };
}

export async function startProfile(): Promise<null> {
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.setSamplingInterval', { interval: 1_000 });
  await session.post('Profiler.start');
  const statements: Running['statements'] = new Map();
  const restore = watchStatements(statements);
  running = { session, statements, begunMs: performance.now(), processor: process.cpuUsage(), restore };
  return null;
}

export async function stopProfile(): Promise<ProfileFound> {
  if (!running) throw new Error('no profile was started');
  const { session, statements, begunMs, processor, restore } = running;
  running = null;
  restore();
  const elapsedMs = performance.now() - begunMs;
  const { user, system } = process.cpuUsage(processor);
  const { profile } = await session.post('Profiler.stop');
  session.disconnect();
  const listed = [...statements].map(([name, entry]) => ({ name, ...entry })).sort((a, b) => b.ms - a.ms);
  return { elapsedMs, processorMs: (user + system) / 1_000, statements: listed, functions: functionTimes(profile) };
}
