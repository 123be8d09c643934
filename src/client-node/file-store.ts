import { mkdir, open, readFile, rm } from 'node:fs/promises';
import path from 'node:path';
import { applyChanges, type Contents, changesFor, noContents, questionsOf } from '../client/contents.ts';
import { oneAtATime } from '../client/one-at-a-time.ts';
import type { DurableStore } from '../client/store.ts';
import { StoreError } from '../client/store-error.ts';
import { type FolderLock, lockFolder } from './folder-lock.ts';
import { syncFolder, type Written, writeAll, writeFailed, writeJournal } from './journal-file.ts';
import { changesIn, lineOf, textOf } from './journal-line.ts';
import { readJournal } from './read-journal.ts';

export interface FileStoreOptions {
  readonly folder: string;
  /** Beyond this many bytes, and twice what it had when last written anew, the journal is written anew. */
  readonly compactBytes?: number;
}

export interface FileStore extends DurableStore {
  /** Bytes at the end that were being written when the last process died; nobody was told that they are stored. */
  readonly cutOff: number;
  /** Why the journal could not be written anew, if so; what is stored is as safe as before. */
  readonly compactionProblem: Error | null;
}

export const JOURNAL = 'journal.ndjson';
const COMPACT_BYTES = 4_194_304;

async function readIfThere(file: string): Promise<Buffer | null> {
  return readFile(file).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return null;
    throw error;
  });
}

interface Opened {
  readonly contents: Contents;
  readonly written: Written;
  readonly cutOff: number;
}

/** Reads what is there, and cuts off what was never acknowledged. */
async function openJournal(file: string): Promise<Opened> {
  await rm(`${file}.next`, { force: true });
  const bytes = await readIfThere(file);
  const contents = noContents();
  if (bytes === null) return { contents, written: await writeJournal(file, []), cutOff: 0 };
  const { commits, link, wholeBytes } = readJournal(file, bytes);
  for (const changes of commits) applyChanges(contents, changes);
  const cutOff = bytes.length - wholeBytes;
  const handle = await open(file, 'r+');
  if (cutOff > 0) {
    await handle.truncate(wholeBytes);
    await handle.sync();
  }
  return { contents, written: { handle, link, bytes: wholeBytes }, cutOff };
}

/** The journal as it grows. After a failure that leaves its end unknown, nothing is written until it is opened anew. */
class GrowingJournal {
  readonly #file: string;
  readonly #contents: Contents;
  readonly #compactBytes: number;
  #written: Written;
  #compactAt: number;
  #broken: StoreError | null = null;
  compactionProblem: Error | null = null;

  constructor(file: string, { contents, written }: Opened, compactBytes: number) {
    this.#file = file;
    this.#contents = contents;
    this.#written = written;
    this.#compactBytes = compactBytes;
    this.#compactAt = Math.max(compactBytes, written.bytes);
  }

  /** On the disk when it returns; only then can it be read. */
  async append(text: Buffer): Promise<void> {
    if (this.#broken) throw this.#broken;
    const { handle, link, bytes } = this.#written;
    const line = lineOf(link, text);
    try {
      await writeAll(handle, line.bytes, bytes);
      await handle.datasync();
    } catch (error) {
      await this.#takeBack(error);
      throw writeFailed(this.#file, error);
    }
    this.#written = { handle, link: line.link, bytes: bytes + line.bytes.length };
    // Read back from its text, so that what is shown now is what will be shown after the next start.
    applyChanges(this.#contents, changesIn(text));
  }

  async compactIfLarge(): Promise<void> {
    if (this.#broken || this.#written.bytes <= this.#compactAt) return;
    try {
      const former = this.#written;
      this.#written = await writeJournal(this.#file, changesFor(this.#contents));
      await former.handle.close();
      this.compactionProblem = null;
    } catch (error) {
      this.compactionProblem = writeFailed(this.#file, error);
    }
    this.#compactAt = Math.max(this.#compactBytes, 2 * this.#written.bytes);
  }

  /** Half a line must not stay: the next one would be taken for its end. */
  async #takeBack(cause: unknown): Promise<void> {
    try {
      await this.#written.handle.truncate(this.#written.bytes);
      await this.#written.handle.sync();
    } catch (error) {
      const why = `${this.#file} could neither be written nor set back (${(error as Error).message})`;
      this.#broken = new StoreError('store_failed', `${why}: close the store and open it again`, cause);
    }
  }

  async close(): Promise<void> {
    this.#broken ??= new StoreError('store_closed', `${this.#file} was closed: open it again`);
    await this.#written.handle.close();
  }
}

function storeOver(file: string, opened: Opened, lock: FolderLock, compactBytes: number): FileStore {
  const journal = new GrowingJournal(file, opened, compactBytes);
  const inTurn = oneAtATime();
  let closing: Promise<void> | null = null;
  const compact = () => void inTurn(() => journal.compactIfLarge());
  return {
    ...questionsOf(opened.contents),
    cutOff: opened.cutOff,
    get compactionProblem() {
      return journal.compactionProblem;
    },
    commit: async (changes) => {
      // Made at once, since its caller may change the list while others are written.
      const text = textOf(changes);
      await inTurn(() => journal.append(text)).finally(compact);
    },
    close: () => {
      closing ??= inTurn(async () => {
        await journal.close();
        await lock.release();
      });
      return closing;
    },
  };
}

/**
 * What a phone keeps, in one folder. The contents are in memory; every commit is one line at the end of a journal, on
 * the disk before it counts, so that a process which is killed at any moment leaves whole commits only. A database
 * library was passed over: it would bring a binary for each platform, and a journal of JSON lines can be read, and in
 * need be mended, with a text editor.
 */
export async function openFileStore({ folder, compactBytes = COMPACT_BYTES }: FileStoreOptions): Promise<FileStore> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const lock = await lockFolder(folder);
  try {
    const file = path.join(folder, JOURNAL);
    const opened = await openJournal(file);
    await syncFolder(folder);
    return storeOver(file, opened, lock, compactBytes);
  } catch (error) {
    await lock.release();
    throw error;
  }
}
