import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp, open, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';

export async function newFolder(): Promise<string> {
  return mkdtemp(path.join(os.tmpdir(), 'wellround-field-'));
}

/** Turns one bit of one byte over. */
export function flip(file: string, at: number): void {
  const bytes = readFileSync(file);
  bytes[at] = (bytes[at] ?? 0) ^ 0x04;
  writeFileSync(file, bytes);
}

type Write = (buffer: Buffer, offset: number, length: number, position: number) => Promise<{ bytesWritten: number }>;

interface HandlePrototype {
  write: Write;
  datasync: () => Promise<void>;
  truncate: (length: number) => Promise<void>;
}

export interface Disk {
  /** It takes half of what it is given and then has no room: what is on it is then really half a line. */
  full(isFull: boolean): void;
  /** It takes all, but says that it may not be there after a power failure; and can take nothing back. */
  failSync(fails: boolean, alsoTruncate?: boolean): void;
}

async function handlePrototype(): Promise<HandlePrototype> {
  const folder = await newFolder();
  const handle = await open(path.join(folder, 'any'), 'w');
  await handle.close();
  await rm(folder, { recursive: true });
  return Object.getPrototypeOf(handle) as HandlePrototype;
}

export async function disk(): Promise<Disk> {
  const prototype = await handlePrototype();
  const { write, datasync, truncate } = prototype;
  const fail = () => Promise.reject(Object.assign(new Error('EIO: i/o error'), { code: 'EIO' }));
  const halfThenFull: Write = async function (this: HandlePrototype, buffer, offset, length, position) {
    await write.call(this, buffer, offset, Math.floor(length / 2), position);
    throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' });
  };
  return {
    full: (isFull) => {
      prototype.write = isFull ? halfThenFull : write;
    },
    failSync: (fails, alsoTruncate = false) => {
      prototype.datasync = fails ? fail : datasync;
      prototype.truncate = fails && alsoTruncate ? fail : truncate;
    },
  };
}
