import { createHash } from 'node:crypto';
import { type FileHandle, open } from 'node:fs/promises';
import type { z } from 'zod';
import {
  type BackupHeader,
  type BackupTrailer,
  backupHeader,
  backupTrailer,
  END_OF_ROWS,
  FORMAT,
  newlinesIn,
  type SectionHead,
  sectionEnd,
  sectionHead,
} from './backup-format.ts';

const READ_BYTES = 1_048_576;
/** Of a line that is not a row. */
const LONGEST_LINE = 1_048_576;

/** A file that is no backup, or not the one that was written. */
export class BackupFault extends Error {}

function parsed<Shape extends z.ZodType>(shape: Shape, line: Buffer, what: string): z.output<Shape> {
  let value: unknown;
  try {
    value = JSON.parse(line.toString('utf8'));
  } catch {
    throw new BackupFault(`its ${what} cannot be read`);
  }
  const read = shape.safeParse(value);
  if (!read.success) throw new BackupFault(`its ${what} is not what it should be`);
  return read.data;
}

function headerFrom(line: Buffer): BackupHeader {
  const given = ((): { wellround?: unknown; format?: unknown } | null => {
    try {
      return JSON.parse(line.toString('utf8')) as { wellround?: unknown; format?: unknown } | null;
    } catch {
      return null;
    }
  })();
  if (given?.wellround !== 'backup') throw new BackupFault('it does not begin as a backup does');
  if (given.format !== FORMAT) {
    throw new BackupFault(
      `it has format ${String(given.format)} and this program reads ${FORMAT}: take a newer release`,
    );
  }
  return parsed(backupHeader, line, 'header');
}

/** Where the line that ends the rows begins, in bytes that begin with a line; -1 where it is not among them. */
function endIn(lines: Buffer): number {
  if (lines.subarray(0, END_OF_ROWS.length).equals(END_OF_ROWS)) return 0;
  const at = lines.indexOf(`\n${END_OF_ROWS.toString()}`);
  return at < 0 ? -1 : at + 1;
}

/** Reads a backup from its beginning to its end, once, and believes nothing that the trailer does not confirm. */
export class BackupReader {
  readonly #handle: FileHandle;
  readonly #hash = createHash('sha256');
  #rest = Buffer.alloc(0);
  #rows = 0;
  #sections = 0;

  private constructor(handle: FileHandle) {
    this.#handle = handle;
  }

  static async open(file: string): Promise<BackupReader> {
    return new BackupReader(await open(file, 'r'));
  }

  /** Of all sections so far. */
  get rowsRead(): number {
    return this.#rows;
  }

  async close(): Promise<void> {
    await this.#handle.close();
  }

  async header(): Promise<BackupHeader> {
    const line = await this.#line();
    const header = headerFrom(line);
    this.#hash.update(line);
    return header;
  }

  /** The next section, whose rows have to be read to their end before the one after it; null once all were confirmed. */
  async next(): Promise<SectionHead | null> {
    const line = await this.#line();
    if (line.subarray(0, 7).toString() === '{"end":') {
      await this.#confirm(parsed(backupTrailer, line, 'trailer'));
      return null;
    }
    const head = parsed(sectionHead, line, 'section');
    this.#hash.update(line);
    this.#sections += 1;
    return head;
  }

  /** The rows of the section, in pieces of whole lines. */
  async *rows(): AsyncGenerator<Buffer, void, void> {
    let found = 0;
    for (let ended = false; !ended; ) {
      const lines = await this.#lines();
      const end = endIn(lines);
      ended = end >= 0;
      const rows = ended ? lines.subarray(0, end) : lines;
      this.#rest = this.#rest.subarray(ended ? end + END_OF_ROWS.length : lines.length);
      found += newlinesIn(rows);
      this.#hash.update(rows);
      if (rows.length > 0) yield rows;
    }
    this.#hash.update(END_OF_ROWS);
    const line = await this.#line();
    const { rows } = parsed(sectionEnd, line, 'count of rows');
    if (rows !== found) throw new BackupFault(`a section has ${found} rows and says that it has ${rows}`);
    this.#hash.update(line);
    this.#rows += found;
  }

  async #confirm(trailer: BackupTrailer): Promise<void> {
    if (this.#rest.length > 0 || (await this.#fill())) throw new BackupFault('something stands after its end');
    const { sections, rows, sha256 } = trailer;
    if (sha256 !== this.#hash.digest('hex'))
      throw new BackupFault('it was changed since it was written: its SHA-256 differs');
    if (sections !== this.#sections || rows !== this.#rows) {
      throw new BackupFault(`it has ${this.#rows} rows in ${this.#sections} sections and says ${rows} in ${sections}`);
    }
  }

  async #fill(): Promise<boolean> {
    const { bytesRead, buffer } = await this.#handle.read(Buffer.allocUnsafe(READ_BYTES), 0, READ_BYTES, null);
    if (bytesRead > 0) this.#rest = Buffer.concat([this.#rest, buffer.subarray(0, bytesRead)]);
    return bytesRead > 0;
  }

  async #line(): Promise<Buffer> {
    let end = this.#rest.indexOf(10);
    while (end < 0) {
      if (this.#rest.length > LONGEST_LINE) throw new BackupFault('it has a line that is too long');
      if (!(await this.#fill())) throw new BackupFault('it ends too early: it was cut');
      end = this.#rest.indexOf(10);
    }
    const line = this.#rest.subarray(0, end + 1);
    this.#rest = this.#rest.subarray(end + 1);
    return line;
  }

  /** As many whole lines as are at hand; they stay there. */
  async #lines(): Promise<Buffer> {
    let end = this.#rest.lastIndexOf(10);
    while (end < 0) {
      if (!(await this.#fill())) throw new BackupFault('it ends too early: it was cut');
      end = this.#rest.lastIndexOf(10);
    }
    return this.#rest.subarray(0, end + 1);
  }
}

async function reading<Result>(file: string, work: (reader: BackupReader) => Promise<Result>): Promise<Result> {
  const reader = await BackupReader.open(file).catch((error: unknown) => {
    throw new Error(`The backup ${file} cannot be read: ${(error as Error).message}`, { cause: error });
  });
  try {
    return await work(reader);
  } catch (error) {
    if (!(error instanceof BackupFault)) throw error;
    throw new Error(`The backup ${file} cannot be used: ${error.message}. Nothing was changed. Take another one.`);
  } finally {
    await reader.close();
  }
}

/** Reads a backup with a function that goes through all of it. */
export function readBackup<Result>(
  file: string,
  work: (header: BackupHeader, reader: BackupReader) => Promise<Result>,
): Promise<Result> {
  return reading(file, async (reader) => work(await reader.header(), reader));
}

/** Goes through the whole file without a database. */
export function checkBackup(file: string): Promise<BackupHeader> {
  return readBackup(file, async (header, reader) => {
    while ((await reader.next()) !== null) for await (const rows of reader.rows()) void rows;
    return header;
  });
}
