import { type FileHandle, open, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import type { Change } from '../client/store.ts';
import { StoreError } from '../client/store-error.ts';
import { lineOf, NO_LINK, textOf } from './journal-line.ts';
import { JOURNAL_VERSION } from './read-journal.ts';

/** Rows in one line of a journal that is written anew. They can be pulled again if that line is ever damaged. */
const ROWS_A_LINE = 500;

/** A name is on the disk only when its folder is; some systems cannot do that and need not. */
export async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close();
}

export async function writeAll(handle: FileHandle, bytes: Buffer, position: number): Promise<void> {
  for (let done = 0; done < bytes.length; ) {
    const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, position + done);
    done += bytesWritten;
  }
}

export interface Written {
  readonly handle: FileHandle;
  readonly link: string;
  readonly bytes: number;
}

function isPulled(change: Change): boolean {
  return 'put' in change && (change.put === 'record' || change.put === 'feed');
}

function* linesFor(changes: readonly Change[]): Generator<unknown> {
  yield { journal: JOURNAL_VERSION };
  // What only this store has gets a line each, so that damage to one takes no other along.
  for (const change of changes.filter((one) => !isPulled(one))) yield [change];
  const rows = changes.filter(isPulled);
  for (let at = 0; at < rows.length; at += ROWS_A_LINE) yield rows.slice(at, at + ROWS_A_LINE);
}

/** A whole journal beside the one in use, on the disk before it takes its name: at every moment one of them is whole. */
export async function writeJournal(file: string, changes: readonly Change[]): Promise<Written> {
  const draft = `${file}.next`;
  const handle = await open(draft, 'w+', 0o600);
  try {
    let link = NO_LINK;
    let bytes = 0;
    for (const value of linesFor(changes)) {
      const line = lineOf(link, textOf(value));
      await writeAll(handle, line.bytes, bytes);
      link = line.link;
      bytes += line.bytes.length;
    }
    await handle.sync();
    await rename(draft, file);
    await syncFolder(path.dirname(file));
    return { handle, link, bytes };
  } catch (error) {
    await handle.close();
    await rm(draft, { force: true });
    throw error;
  }
}

const FULL = ['ENOSPC', 'EDQUOT', 'EFBIG'];

export function writeFailed(file: string, error: unknown): StoreError {
  const { code = 'unknown', message } = error as NodeJS.ErrnoException;
  if (FULL.includes(code)) {
    return new StoreError('store_full', `no room to write to ${file} (${code}): make room and try again`, error);
  }
  return new StoreError('store_failed', `${file} could not be written: ${message}. Try again`, error);
}
