import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CREW_FOLDER } from '../../seeds/play/crews.ts';
import { freshFolder } from '../../seeds/server/data-folder.ts';
import { testLog } from '../support/test-log.ts';

let base: string;

beforeAll(async () => {
  base = await mkdtemp(path.join(os.tmpdir(), 'wellround-demo-'));
});
afterAll(() => rm(base, { recursive: true, force: true }));

const MARKER = 'made-by-the-demo.json';
/** No process has a number that large. */
const ENDED = 2 ** 22 + 1;

async function earlierRun(name: string, process: number, ...files: string[]): Promise<string> {
  const folder = path.join(base, name);
  await mkdir(path.join(folder, 'postgres'), { recursive: true });
  await writeFile(path.join(folder, 'postgres', 'PG_VERSION'), '18');
  await mkdir(path.join(folder, CREW_FOLDER));
  await writeFile(path.join(folder, CREW_FOLDER, 'journal.ndjson'), '{}');
  await writeFile(path.join(folder, MARKER), JSON.stringify({ demo: 'wellround', process }));
  for (const file of files) await writeFile(path.join(folder, file), 'kept');
  return folder;
}

describe('the folder of the demo', () => {
  it('is a new one each time; what an ended demo made is cleared away', async () => {
    const first = await freshFolder(path.join(base, 'new'), testLog);
    expect(path.basename(first.folder)).toBe('run-1');
    expect(await readdir(first.folder)).toEqual([MARKER]);
    const earlier = await earlierRun('run-3', ENDED);
    const fresh = await freshFolder(base, testLog);
    expect(path.basename(fresh.folder)).toBe('run-4');
    expect(fresh.cleared).toEqual([earlier]);
    expect(existsSync(earlier)).toBe(false);
  });

  it('leaves alone what the demo did not make, whatever folder is named', async () => {
    const theirs = path.join(base, 'run-7');
    await mkdir(path.join(theirs, 'postgres'), { recursive: true });
    await writeFile(path.join(theirs, 'postgres', 'PG_VERSION'), '18');
    await mkdir(path.join(base, 'postgres'), { recursive: true });
    await writeFile(path.join(base, 'notes.txt'), 'kept');
    const mixed = await earlierRun('run-8', ENDED, 'my-export.csv');
    const { left } = await freshFolder(base, testLog);
    expect(existsSync(path.join(theirs, 'postgres', 'PG_VERSION'))).toBe(true);
    expect(existsSync(path.join(base, 'postgres'))).toBe(true);
    expect(existsSync(path.join(base, 'notes.txt'))).toBe(true);
    expect(existsSync(path.join(mixed, 'my-export.csv'))).toBe(true);
    expect(left.join('\n')).toContain('run-7: has no mark of the demo');
    expect(left.join('\n')).toContain('run-8: holds my-export.csv, which the demo did not make');
  });

  it('leaves a demo alone that still runs', async () => {
    const running = await earlierRun('run-20', process.pid);
    const { left } = await freshFolder(base, testLog);
    expect(left.join('\n')).toContain(`run-20: a demo runs there (process ${process.pid})`);
    expect(existsSync(path.join(running, 'postgres', 'PG_VERSION'))).toBe(true);
  });

  it('says what to do where it may not write', async () => {
    const file = path.join(base, 'a-file');
    await writeFile(file, '');
    await expect(freshFolder(path.join(file, 'below'), testLog)).rejects.toThrow(/DATA_DIR/);
  });
});
