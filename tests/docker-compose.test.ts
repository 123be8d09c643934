import { execFile } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import path from 'node:path';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { readConfig } from '../src/config.ts';

const root = path.join(import.meta.dirname, '..');
const service = z.looseObject({
  image: z.string().optional(),
  build: z.object({ context: z.string(), dockerfile_inline: z.string() }).optional(),
  command: z.array(z.string()).optional(),
  depends_on: z.record(z.string(), z.object({ condition: z.string() })).optional(),
  environment: z.record(z.string(), z.string()),
  ports: z.array(z.string()).optional(),
  volumes: z.array(z.string()),
  healthcheck: z.looseObject({ test: z.array(z.string()) }),
});
const compose = z
  .object({
    services: z.object({ database: service, api: service }),
    volumes: z.record(z.string(), z.null()),
  })
  .parse(parse(readFileSync(path.join(root, 'docker-compose.yml'), 'utf8')));
const { database, api } = compose.services;
const manifest = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));

test('the database is a PostgreSQL that the program supports, in UTF8, and no port of it is published', () => {
  const major = Number(/^postgres:(\d+)$/.exec(database.image ?? '')?.[1]);
  expect(major).toBeGreaterThanOrEqual(15);
  expect(database.environment.POSTGRES_INITDB_ARGS).toContain('--encoding=UTF8');
  expect(database.ports).toBeUndefined();
});

test('the address that the API is given is that database', () => {
  // biome-ignore lint/suspicious/noTemplateCurlyInString: Compose fills this in, not JavaScript
  const password = '${DATABASE_PASSWORD:-wellround}';
  const address = new URL(String(api.environment.DATABASE_URL).replace(password, 'password'));
  expect(address.protocol).toBe('postgresql:');
  expect(address.hostname in compose.services).toBe(true);
  expect(address.username).toBe(database.environment.POSTGRES_USER);
  expect(address.pathname).toBe(`/${database.environment.POSTGRES_DB}`);
  expect(String(database.environment.POSTGRES_PASSWORD)).toBe(password);
  expect(api.depends_on).toEqual({ database: { condition: 'service_healthy' } });
});

test('the API runs on a Node that the package allows, without a shell or npm between it and its signals', () => {
  const node = Number(/^FROM node:(\d+)/m.exec(api.build?.dockerfile_inline ?? '')?.[1]);
  expect(manifest.engines.node).toBe('>=20.19 <25');
  expect(node).toBe(24);
  expect(api.build?.dockerfile_inline).toMatch(/^RUN npm ci\b/m);
  expect(api.command?.[0]).toBe('node');
  const [, ...given] = api.command ?? [];
  const without = given.filter((one: string) => !['--import', 'tsx'].includes(one));
  expect(manifest.scripts.start).toBe(`tsx ${without.join(' ')}`);
});

test('the program takes these settings as they are', () => {
  const config = readConfig(api.environment);
  expect(config).toMatchObject({ PORT: 4400, HOST: '0.0.0.0', DATA_DIR: '/data' });
});

test('the port that is published is the port it listens on, on every interface of its container', () => {
  const inside = api.ports?.[0]?.split(':').at(-1);
  expect(inside).toBe(api.environment.PORT);
  expect(api.environment.HOST).toBe('0.0.0.0');
});

test('what must last lies in volumes that are declared, and nothing of this machine is built in', () => {
  const used = [...database.volumes, ...api.volumes].map((volume) => volume.split(':')[0]);
  expect(used.sort()).toEqual(Object.keys(compose.volumes).sort());
  expect(api.volumes.map((volume) => volume.split(':')[1])).toEqual([api.environment.DATA_DIR]);
  expect(existsSync(path.join(root, '.dockerignore'))).toBe(true);
  expect(readFileSync(path.join(root, '.dockerignore'), 'utf8').split('\n')).toContain('node_modules');
});

test('the health check of the API asks /livez, and tells a live server from a failing and an absent one', async () => {
  const [, program, flag, script] = api.healthcheck.test;
  expect([program, flag]).toEqual(['node', '-e']);
  const asked: string[] = [];
  let status = 200;
  const server = createServer((request, response) => {
    asked.push(String(request.url));
    response.writeHead(status).end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const check = (): Promise<boolean> =>
    promisify(execFile)(process.execPath, [
      '-e',
      String(script).replace(`:${api.environment.PORT}/`, `:${port}/`),
    ]).then(
      () => true,
      () => false,
    );
  expect(await check()).toBe(true);
  status = 503;
  expect(await check()).toBe(false);
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  expect(await check()).toBe(false);
  expect(asked).toEqual(['/livez', '/livez']);
});
