import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { type CopiedLine, copyBytes } from '../../src/client/outbox-copy.ts';
import { writeCopy } from '../../src/client-node/crew/write-copy.ts';
import { newFolder } from './kept-files.ts';

const OWN = '0190a000-0000-7000-8000-000000000001';
const PARTNER = '0190a000-0000-7000-8000-000000000002';
const MADE = '2026-05-04T09:00:00-05:00';
const THERE = 'is there already, and is not written over: give another name';
const folders: string[] = [];
let folder = '';
let file = '';

beforeEach(async () => {
  folder = await newFolder();
  folders.push(folder);
  file = path.join(folder, 'lost-phone.copy');
});
afterAll(async () => {
  for (const one of folders) await rm(one, { recursive: true, force: true });
});

function line(client: string, mutationId: number, more: Partial<CopiedLine> = {}): CopiedLine {
  return { client, mutationId, captured: MADE, line: `{"mutationId":${mutationId}}`, ...more };
}

function write(...lines: readonly CopiedLine[]): Promise<void> {
  return writeCopy(file, copyBytes(MADE, lines), new Set([OWN]));
}

it("never writes over the copy of a lost partner's phone, nor over any other file", async () => {
  const former = [copyBytes(MADE, [line(PARTNER, 1)]), copyBytes(MADE, []), Buffer.from('notes of the day')];
  for (const bytes of former) {
    await writeFile(file, bytes);
    // the new one carries the partner's line as well: the file is of another device all the same
    await expect(write(line(OWN, 1), line(PARTNER, 1))).rejects.toThrow(`${file} ${THERE}`);
    expect(Buffer.compare(await readFile(file), bytes)).toBe(0);
  }
  expect(await readdir(folder)).toEqual(['lost-phone.copy']);
});

it('replaces a former copy of the same device where the new one has all of it', async () => {
  await write(line(OWN, 1));
  const more = [line(OWN, 1), line(OWN, 2)];
  await write(...more);
  expect(Buffer.compare(await readFile(file), copyBytes(MADE, more))).toBe(0);
  expect(await readdir(folder)).toEqual(['lost-phone.copy']);
});

it('keeps a former copy of the same device that has what the new one has not', async () => {
  const former = [line(OWN, 1, { was: { ph: '7.1' }, seen: ['a'] }), line(OWN, 2), line(PARTNER, 1)];
  await write(...former);
  const bytes = await readFile(file);
  const [first = line(OWN, 1), ...others] = former;
  const less = [
    [first, line(OWN, 2)],
    [first, line(OWN, 2, { line: '{}' }), line(PARTNER, 1)],
    [{ ...first, was: null }, ...others],
    [{ ...first, seen: undefined }, ...others],
  ];
  for (const lines of less) await expect(write(...lines)).rejects.toThrow(THERE);
  expect(Buffer.compare(await readFile(file), bytes)).toBe(0);
});

it('says in a sentence where nothing can be written, and leaves nothing behind', async () => {
  const lines = copyBytes(MADE, [line(OWN, 1)]);
  const own = new Set([OWN]);
  await expect(writeCopy(path.join(folder, 'usb', 'a.copy'), lines, own)).rejects.toThrow(
    `there is no folder ${path.join(folder, 'usb')}: make it, or give another place`,
  );
  await writeFile(file, 'a file');
  await expect(writeCopy(path.join(file, 'a.copy'), lines, own)).rejects.toThrow(`${file} is no folder`);
  await mkdir(path.join(folder, 'a.copy'));
  await expect(writeCopy(path.join(folder, 'a.copy'), lines, own)).rejects.toThrow(THERE);
  expect((await readdir(folder)).sort()).toEqual(['a.copy', 'lost-phone.copy']);
});
