import { existsSync } from 'node:fs';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import pino from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { backup } from '../../src/commands/backup.ts';
import type { Command } from '../../src/commands/command.ts';
import { compactNow } from '../../src/commands/compact.ts';
import { again } from '../../src/commands/derive-again.ts';
import { doctor } from '../../src/commands/doctor.ts';
import { enrolmentCode } from '../../src/commands/enrolment-code.ts';
import { newEpoch } from '../../src/commands/new-epoch.ts';
import { verify } from '../../src/commands/verify.ts';
import { readConfig } from '../../src/config.ts';

let base: string;

beforeAll(async () => {
  base = await mkdtemp(path.join(os.tmpdir(), 'no-database-'));
});
afterAll(() => rm(base, { recursive: true }));

it.each<[string, Command]>([
  ['backup', backup],
  ['compact', compactNow],
  ['derive-again', again],
  ['doctor', doctor],
  ['enrolment-code', enrolmentCode],
  ['new-epoch', newEpoch],
  ['verify', verify],
])('%s says that there is no database where there is none, and makes none', async (_name, command) => {
  for (const folder of [base, path.join(base, 'misspelt')]) {
    const given = { config: readConfig({ DATA_DIR: folder }), logger: pino({ level: 'silent' }), options: {} };
    const run = command({ ...given, rest: [path.join(base, 'one.backup')], now: () => new Date() });
    await expect(run).rejects.toThrow(`There is no database in ${folder}, and none was made. Name the folder`);
  }
  expect(existsSync(path.join(base, 'misspelt'))).toBe(false);
  expect(await readdir(base)).toEqual([]);
});
