import { open, readFile, rename } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { syncFolder } from '../journal-file.ts';
import type { Crew } from './open-crew.ts';

const keptNumber = z.strictObject({ number: z.int(), kind: z.string(), id: z.string() });
const file = z.strictObject({ numbers: z.array(keptNumber) });
export type KeptNumber = z.output<typeof keptNumber>;

/** Those of a few weeks: a record of last month is found by its sign. */
const MOST = 5_000;

function fileIn(folder: string): string {
  return path.join(folder, 'numbers.json');
}

async function readNumbers(folder: string): Promise<readonly KeptNumber[]> {
  try {
    return file.parse(JSON.parse(await readFile(fileIn(folder), 'utf8'))).numbers;
  } catch {
    // a folder of before, or one that was damaged: what is in the outbox is known all the same
    return [];
  }
}

async function ofOutbox(crew: Crew): Promise<readonly KeptNumber[]> {
  const outbox = await crew.client.context.store.outbox();
  return outbox.map(({ sequence, kind, id }) => ({ number: sequence, kind, id }));
}

/** Every number that was said when a record was kept, latest last; those that the outbox has dropped among them. */
export async function keptNumbers(crew: Crew): Promise<readonly KeptNumber[]> {
  const all = new Map([...(await readNumbers(crew.folder)), ...(await ofOutbox(crew))].map((one) => [one.number, one]));
  return [...all.values()].toSorted((a, b) => a.number - b.number);
}

/**
 * Before a sync, which drops from the outbox what the server has in a backup too: the person still knows the number that
 * was said.
 */
export async function rememberNumbers(crew: Crew): Promise<void> {
  const numbers = (await keptNumbers(crew)).slice(-MOST);
  const target = fileIn(crew.folder);
  const handle = await open(`${target}.next`, 'w', 0o600);
  await handle.writeFile(`${JSON.stringify({ numbers })}\n`);
  await handle.sync();
  await handle.close();
  await rename(`${target}.next`, target);
  await syncFolder(crew.folder);
}
