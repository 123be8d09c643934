import { createHash, randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { type FileHandle, link, open, rm, unlink } from 'node:fs/promises';
import path from 'node:path';

const WRITE_BYTES = 1_048_576;

/** A name of its own for each attempt: two that write at once never write into one file. */
function partialName(file: string): string {
  return `${file}.${randomUUID()}.partial`;
}

async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  await handle.sync().finally(() => handle.close());
}

function isThere(file: string): Error {
  return new Error(`The backup ${file} is there already, and is not written over. Name another file, or move it away.`);
}

function refused(file: string, error: unknown): Error {
  const { code = '', message } = error as NodeJS.ErrnoException;
  if (code === 'EEXIST') return isThere(file);
  const full = code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG';
  const what = full ? 'there is no room for it' : message;
  return new Error(
    `The backup ${file} could not be written: ${what} (${code || 'no code'}). No file of that name was left, and phones ` +
      'keep what they keep. Make room or name another folder, and try again.',
    { cause: error },
  );
}

/**
 * A file that has its name only once everything is on the disk. It holds what tokens are known by, so only its owner may
 * read it.
 */
export class BackupSink {
  readonly #file: string;
  readonly #partial: string;
  readonly #handle: FileHandle;
  readonly #hash = createHash('sha256');
  #waiting: Buffer[] = [];
  #waitingBytes = 0;
  bytes = 0;

  private constructor(file: string, partial: string, handle: FileHandle) {
    this.#file = file;
    this.#partial = partial;
    this.#handle = handle;
  }

  static async open(file: string): Promise<BackupSink> {
    if (existsSync(file)) throw isThere(file);
    const partial = partialName(file);
    try {
      return new BackupSink(file, partial, await open(partial, 'wx', 0o600));
    } catch (error) {
      throw refused(file, error);
    }
  }

  /** Of everything that was added. */
  digest(): Buffer {
    return this.#hash.copy().digest();
  }

  async add(bytes: Buffer): Promise<void> {
    this.#hash.update(bytes);
    this.bytes += bytes.length;
    this.#waiting.push(bytes);
    this.#waitingBytes += bytes.length;
    if (this.#waitingBytes >= WRITE_BYTES) await this.#write();
  }

  /** Everything on the disk, and then the name: from here on the backup is there, whatever happens. */
  async finish(): Promise<void> {
    try {
      await this.#write();
      await this.#handle.sync();
      await this.#handle.close();
      await this.#takeName();
    } catch (error) {
      throw refused(this.#file, error);
    }
  }

  /** A link takes no name that is taken; and where the name is not sure to be on the disk, it is given up again. */
  async #takeName(): Promise<void> {
    await link(this.#partial, this.#file);
    try {
      await syncFolder(path.dirname(path.resolve(this.#file)));
      await unlink(this.#partial);
    } catch (error) {
      await rm(this.#file, { force: true });
      throw error;
    }
  }

  async abandon(): Promise<void> {
    await this.#handle.close().catch(() => undefined);
    await rm(this.#partial, { force: true });
  }

  async #write(): Promise<void> {
    const bytes = Buffer.concat(this.#waiting);
    this.#waiting = [];
    this.#waitingBytes = 0;
    try {
      // writes on where it stopped, however little the system takes at once
      await this.#handle.writeFile(bytes);
    } catch (error) {
      throw refused(this.#file, error);
    }
  }
}
