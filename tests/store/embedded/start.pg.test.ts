import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { clusterFolder } from '../../../src/store/embedded/data-folder.ts';
import { startEmbedded } from '../../../src/store/embedded/supervisor.ts';
import { ask, careless, clusterOf, dataFolders, serverOn } from '../../support/data-folders.ts';
import { testLog as log } from '../../support/test-log.ts';

const folders = dataFolders();
afterAll(() => folders.removeAll());

const SETTINGS = `
  select name, setting from pg_settings where name in ('fsync', 'synchronous_commit', 'full_page_writes', 'data_checksums',
    'listen_addresses', 'server_encoding', 'max_connections', 'idle_in_transaction_session_timeout') order by name`;

describe('a new data folder', () => {
  test('gives a durable UTF8 server with checksums that only its own account reaches, over a socket', async () => {
    const dataDir = await folders.make();
    const server = await startEmbedded({ dataDir, log });
    const settings = await ask<{ name: string; setting: string }>(server.connection('superuser', 'postgres'), SETTINGS);
    expect(Object.fromEntries(settings.map(({ name, setting }) => [name, setting]))).toEqual({
      data_checksums: 'on',
      fsync: 'on',
      full_page_writes: 'on',
      idle_in_transaction_session_timeout: '10000',
      listen_addresses: '',
      max_connections: '40',
      server_encoding: 'UTF8',
      synchronous_commit: 'on',
    });
    const { host } = server.connection('app', 'postgres');
    expect(statSync(String(host)).mode & 0o777).toBe(0o700);
    expect(statSync(clusterOf(dataDir)).mode & 0o777).toBe(0o700);
    await server.stop();
    expect(existsSync(String(host))).toBe(false);
    expect(await serverOn(dataDir)).toBeUndefined();
  });

  test('makes an owner and an application role, neither of them above row-level security', async () => {
    const server = await startEmbedded({ dataDir: await folders.make(), log, settings: careless });
    const roles = await ask(
      server.connection('superuser', 'postgres'),
      `select rolname, rolcanlogin, rolsuper, rolbypassrls, rolcreaterole, rolcreatedb, rolconfig
       from pg_roles where rolname like 'wellround%' order by rolname`,
    );
    const plain = { rolcanlogin: true, rolsuper: false, rolbypassrls: false, rolcreaterole: false, rolcreatedb: false };
    expect(roles).toEqual([
      { rolname: 'wellround_app', ...plain, rolconfig: ['statement_timeout=15s'] },
      { rolname: 'wellround_owner', ...plain, rolconfig: null },
    ]);
    await server.stop();
  });

  test('may lie deeper than a socket name can say', async () => {
    const deep = path.join(await folders.make(), ...Array.from({ length: 8 }, () => 'a-folder-with-a-long-name'));
    expect(Buffer.byteLength(deep)).toBeGreaterThan(200);
    const server = await startEmbedded({ dataDir: deep, log, settings: careless });
    expect(await ask(server.connection('app', 'postgres'), 'select 1 as one')).toEqual([{ one: 1 }]);
    await server.stop();
  });

  test('does not meet the socket of another data folder, nor one that a stranger left in its old place', async () => {
    const [first, second] = [await folders.make(), await folders.make()];
    const servers = await Promise.all(
      [first, second].map((dataDir) => startEmbedded({ dataDir, log, settings: careless })),
    );
    const [a, b] = servers.map((server) => String(server.connection('app', 'postgres').host));
    expect(a).not.toBe(b);
    await servers[0]?.stop();
    mkdirSync(String(a), { mode: 0o700 });
    const stranger = createServer().listen(path.join(String(a), '.s.PGSQL.5432'));
    const again = await startEmbedded({ dataDir: first, log, settings: careless });
    expect(await ask(again.connection('app', 'postgres'), 'select 1 as one')).toEqual([{ one: 1 }]);
    stranger.close();
    await Promise.all([again.stop(), servers[1]?.stop()]);
    await rm(String(a), { recursive: true, force: true });
  });
});

describe('a data folder that was left in a bad state', () => {
  test('half made: what a killed creation left is cleared, what looks unfinished is moved aside, nothing is lost', async () => {
    const dataDir = await folders.make();
    const cluster = clusterFolder(dataDir);
    const abandoned = path.join(dataDir, 'postgres.new-4194999-abcdef');
    mkdirSync(path.join(cluster, 'base'), { recursive: true });
    mkdirSync(abandoned);
    writeFileSync(path.join(cluster, 'PG_VERSION'), '18\n');
    const warnings: string[] = [];
    const listening = { ...log, warn: (_: object, message: string) => void warnings.push(message) };
    const server = await startEmbedded({ dataDir, log: listening, settings: careless });
    expect(await ask(server.connection('app', 'postgres'), 'select 1 as one')).toEqual([{ one: 1 }]);
    await server.stop();
    expect(existsSync(abandoned)).toBe(false);
    expect(readdirSync(`${cluster}.unfinished-1`).sort()).toEqual(['PG_VERSION', 'base']);
    expect(warnings).toEqual([expect.stringContaining('moved aside')]);
  });

  test('used once and damaged since: it says so and changes nothing', async () => {
    const dataDir = await folders.make();
    const cluster = clusterFolder(dataDir);
    mkdirSync(cluster, { recursive: true });
    writeFileSync(path.join(cluster, 'PG_VERSION'), '18\n');
    writeFileSync(path.join(cluster, 'postmaster.opts'), 'postgres');
    await expect(startEmbedded({ dataDir, log })).rejects.toThrow(/damaged.*Nothing was changed.*Restore a backup/s);
    expect(readdirSync(cluster).sort()).toEqual(['PG_VERSION', 'postmaster.opts']);
  });

  test('made by another major version: it names both versions and the way out', async () => {
    const dataDir = await folders.make();
    const server = await startEmbedded({ dataDir, log, settings: careless });
    await server.stop();
    await writeFile(path.join(clusterOf(dataDir), 'PG_VERSION'), '14\n');
    await expect(startEmbedded({ dataDir, log })).rejects.toThrow(
      /made by PostgreSQL 14.*brings PostgreSQL 18.*backup/s,
    );
  });

  test('broken settings: the server’s own words are in the error', async () => {
    const dataDir = await folders.make();
    const starting = startEmbedded({ dataDir, log, settings: { ...careless, shared_buffers: 'plenty' } });
    await expect(starting).rejects.toThrow(/did not start.*invalid value for parameter "shared_buffers": "plenty"/s);
    expect(readFileSync(path.join(dataDir, 'postgres.log'), 'utf8')).toContain('shared_buffers');
  });

  test('a file in its place: it names the file', async () => {
    const dataDir = await folders.make();
    await writeFile(dataDir, 'not a folder');
    await expect(startEmbedded({ dataDir, log })).rejects.toThrow(/data folder cannot be used \(E\w+.*DATA_DIR/s);
  });
});
