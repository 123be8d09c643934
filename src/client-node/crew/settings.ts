import { open, readFile, rename } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { syncFolder } from '../journal-file.ts';
import { CrewError } from './crew-error.ts';

const settings = z.strictObject({
  url: z.string(),
  /** The token of the device; the file can be read by its owner only. */
  token: z.string(),
  device: z.string(),
  crew: z.string().nullable(),
  /** Of the token, as the server said at the last joining; what it may not write is then said beforehand. */
  role: z.enum(['crew', 'coordinator', 'dashboard', 'admin']).nullable().default(null),
  /** The event to work in, where there are several. */
  event: z.string().nullable(),
  /** The member who reads the instruments, and the one who writes; kept together, so that a change is one. */
  reads: z.string().nullable(),
  writes: z.string().nullable(),
  /** By how much the clock of the phone is ahead of this computer's: a demo plays in a time of its own. */
  aheadMs: z.number().optional(),
});
export type Settings = z.output<typeof settings>;

function fileIn(folder: string): string {
  return path.join(folder, 'crew.json');
}

export async function readSettings(folder: string): Promise<Settings> {
  const file = fileIn(folder);
  const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw error;
    throw new CrewError(`${folder} belongs to no crew yet: crew join URL TOKEN`);
  });
  try {
    return settings.parse(JSON.parse(text));
  } catch {
    throw new CrewError(`${file} cannot be read: join once more with crew join URL TOKEN; the records stay`);
  }
}

/** Written whole beside the one in use, so that a crash leaves one of the two. */
export async function writeSettings(folder: string, value: Settings): Promise<void> {
  const file = fileIn(folder);
  const handle = await open(`${file}.next`, 'w', 0o600);
  await handle.writeFile(`${JSON.stringify(value, null, 2)}\n`);
  await handle.sync();
  await handle.close();
  await rename(`${file}.next`, file);
  await syncFolder(folder);
}
