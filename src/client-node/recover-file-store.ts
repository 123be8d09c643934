import { copyFile, open, readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { applyChanges, type Contents, noContents } from '../client/contents.ts';
import { changesAfter, type Recovered, recoveredOf, type Salvage } from '../client/salvage.ts';
import { JOURNAL } from './file-store.ts';
import { lockFolder } from './folder-lock.ts';
import { syncFolder, writeJournal } from './journal-file.ts';
import { changesIn, linkOf, NO_LINK, readLine } from './journal-line.ts';
import { checkHeader, isHeader, linesIn } from './read-journal.ts';

const NOTHING = Buffer.alloc(0);

interface Readable {
  readonly contents: Contents;
  readonly unreadable: number;
}

/** Two lines where the line end between them was changed into something else. */
function apart(links: readonly string[], line: Buffer): readonly Buffer[] {
  for (const { index } of line.toString('latin1').matchAll(/[0-9a-f]{16} \[/g)) {
    const head = line.subarray(0, Math.max(0, index - 1));
    if (follows(links, head)) return [head, line.subarray(index)];
  }
  return [line];
}

function follows(links: readonly string[], line: Buffer): boolean {
  return links.some((link) => readLine(link, line).right);
}

/** The lines that are what was written. The one after it vouches for a line whose own link alone is damaged. */
function rightLines(bytes: Buffer): { readonly right: readonly Buffer[]; readonly lines: number } {
  const lines = linesIn(bytes).map(([begin, end]) => bytes.subarray(begin, end));
  const right: Buffer[] = [];
  let links: readonly string[] = [NO_LINK];
  for (let at = 0; at < lines.length; at++) {
    if (!follows(links, lines[at] ?? NOTHING)) lines.splice(at, 1, ...apart(links, lines[at] ?? NOTHING));
    const line = lines[at] ?? NOTHING;
    const { link, text } = readLine(NO_LINK, line);
    const computed = links.map((before) => linkOf(before, text));
    const next = lines[at + 1];
    if (follows(links, line) || (next !== undefined && follows(computed, next))) right.push(text);
    links = [link, ...computed.slice(0, 1)];
  }
  return { right, lines: lines.length };
}

function readWhatIsRight(file: string, bytes: Buffer): Readable {
  const contents = noContents();
  const { right, lines } = rightLines(bytes);
  for (const text of right) {
    if (isHeader(text)) checkHeader(file, text);
    else applyChanges(contents, changesIn(text));
  }
  return { contents, unreadable: lines - right.length };
}

async function setAsideCopy(folder: string, file: string): Promise<string> {
  const taken = (await readdir(folder)).filter((name) => name.startsWith('damaged-')).length;
  const copy = path.join(folder, `damaged-${taken + 1}-${JOURNAL}`);
  await copyFile(file, copy);
  const handle = await open(copy, 'r+');
  await handle.sync();
  await handle.close();
  await syncFolder(folder);
  return copy;
}

export interface RecoveredFiles extends Recovered {
  /** The damaged journal as it was, to the byte. */
  readonly copy: string;
}

/**
 * Begins a damaged store anew with every record of the outbox, own and carried, that can still be read. The damaged
 * journal is kept beside it; what was synced is pulled again.
 */
export async function recoverFileStore(folder: string, newId: () => string): Promise<RecoveredFiles> {
  const lock = await lockFolder(folder);
  try {
    const file = path.join(folder, JOURNAL);
    const { contents, unreadable } = readWhatIsRight(file, await readFile(file));
    const copy = await setAsideCopy(folder, file);
    const { identity, entries, carried } = contents;
    const salvage: Salvage = { identity, entries: [...entries.values()], carried: [...carried.values()] };
    const { handle } = await writeJournal(file, changesAfter(salvage, newId));
    await handle.close();
    return { ...recoveredOf(salvage, unreadable), copy };
  } finally {
    await lock.release();
  }
}
