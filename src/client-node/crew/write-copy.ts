import { randomUUID } from 'node:crypto';
import { lstat, open, readFile, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { mutationKey } from '../../client/contents.ts';
import { type CopiedLine, readCopy } from '../../client/outbox-copy.ts';
import { CrewError } from './crew-error.ts';

function linesOf(bytes: Uint8Array): readonly CopiedLine[] | null {
  try {
    return readCopy(bytes);
  } catch {
    return null;
  }
}

/** What the former copy says of a line is in the new one as well: a copy by a newer app may say more. */
function isToldBy(former: CopiedLine, now: CopiedLine | undefined): boolean {
  if (now?.line !== former.line) return false;
  return (!former.was || Boolean(now.was)) && (former.seen === undefined || now.seen !== undefined);
}

/** A copy of this same device, of which nothing would be lost: a partner's may be the only one of a lost phone. */
function isFormerOfSame(former: Uint8Array, now: Uint8Array, own: ReadonlySet<string>): boolean {
  const lines = linesOf(former);
  if (lines === null || !lines.some(({ client }) => own.has(client))) return false;
  const told = new Map((linesOf(now) ?? []).map((line) => [mutationKey(line), line]));
  return lines.every((line) => isToldBy(line, told.get(mutationKey(line))));
}

async function mayWrite(file: string, bytes: Uint8Array, own: ReadonlySet<string>): Promise<boolean> {
  const there = await lstat(file).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  if (there === null) return true;
  return there.isFile() && isFormerOfSame(await readFile(file), bytes, own);
}

/** Beside it first: a kill or a full disk leaves the former copy, or none, and never a part of one. */
async function replaceWith(file: string, bytes: Uint8Array): Promise<void> {
  const draft = `${file}.${randomUUID().slice(0, 8)}.part`;
  try {
    const handle = await open(draft, 'wx', 0o600);
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(draft, file);
  } catch (error) {
    await rm(draft, { force: true }).catch(() => undefined);
    throw error;
  }
}

function inWords(file: string, { code, message }: NodeJS.ErrnoException): CrewError {
  const folder = path.dirname(path.resolve(file));
  if (code === 'ENOENT') return new CrewError(`there is no folder ${folder}: make it, or give another place`);
  if (code === 'ENOTDIR') return new CrewError(`${folder} is no folder: give another place`);
  return new CrewError(`the copy could not be written to ${file}: ${message}. Give another place`);
}

/**
 * @param own the client ids of this device: a copy that it made before is replaced where the new one contains it
 */
export async function writeCopy(file: string, bytes: Uint8Array, own: ReadonlySet<string>): Promise<void> {
  const may = await mayWrite(file, bytes, own).catch((error) => Promise.reject(inWords(file, error)));
  if (!may) throw new CrewError(`${file} is there already, and is not written over: give another name`);
  await replaceWith(file, bytes).catch((error) => Promise.reject(inWords(file, error)));
}
