import { Writable } from 'node:stream';
import pino from 'pino';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { readConfig } from '../src/config.ts';
import type { Request } from '../src/rules/decide/request.ts';
import { openStore, type Served, type Store, serve } from '../src/start.ts';
import { command } from './faults/real-server.ts';
import { dataFolders } from './support/data-folders.ts';

vi.mock('../src/rules/decide/decide.ts', async (original) => {
  const real = await original<typeof import('../src/rules/decide/decide.ts')>();
  const decide: typeof real.decide = (request: Request, ...more) => {
    if (request.read.fields.name === 'a name that a rule fails on') throw new TypeError('a rule fails');
    return real.decide(request, ...more);
  };
  return { ...real, decide };
});

const folders = dataFolders();
const logged: Record<string, unknown>[] = [];
let store: Store;
let served: Served;
let secret: string;

beforeAll(async () => {
  const dataDir = await folders.make();
  const printed = await command(dataDir, 'init', '--firm', 'Testwater Associates');
  [, secret = ''] = /^token (\S+)$/m.exec(printed) ?? [];
  const config = readConfig({ DATA_DIR: dataDir, PORT: '0', LOG_LEVEL: 'warn' });
  const write = (chunk: Buffer, _encoding: string, done: () => void) => {
    logged.push(JSON.parse(String(chunk)));
    done();
  };
  const logger = pino({ level: 'warn' }, new Writable({ write }));
  store = await openStore(config, logger, () => new Date());
  served = await serve(store.ctx, config, logger);
}, 120_000);
afterAll(async () => {
  await served.app.close();
  await store.close();
  await folders.removeAll();
}, 60_000);

it('[W11] the log of the server has the fault of a line that it set aside, under the id that the phone is told', async () => {
  const lines = ['Crew A', 'a name that a rule fails on', 'Crew B'].map((name, at) =>
    JSON.stringify({ mutationId: at + 1, verb: 'record', kind: 'crew', id: v7(), set: { name } }),
  );
  const header = JSON.stringify({ client: v7(), schemaVersion: 1, first: 1, count: 3 });
  const headers = { authorization: `Bearer ${secret}`, 'content-type': 'application/x-ndjson' };
  const body = `${[header, ...lines].join('\n')}\n`;
  const answer = await fetch(`${served.url}/v1/sync/push`, { method: 'POST', headers, body });
  expect(answer.status).toBe(200);
  const { outcomes } = (await answer.json()) as { outcomes: { outcome: string; setAside?: string; detail?: string }[] };
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'set_aside', 'applied']);
  const [, { setAside = '', detail } = {}] = outcomes;
  expect(detail).toContain(setAside);
  const errors = logged.filter(({ level }) => level === 50);
  expect(errors).toMatchObject([{ setAside, err: { type: 'TypeError', message: 'a rule fails' } }]);
  expect(JSON.stringify(errors)).toContain('decide');
});
