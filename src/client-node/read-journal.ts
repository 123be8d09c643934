import type { Change } from '../client/store.ts';
import { StoreError } from '../client/store-error.ts';
import { changesIn, NO_LINK, readLine } from './journal-line.ts';

export const JOURNAL_VERSION = 1;
const LINE_END = 0x0a;

export interface Journal {
  readonly commits: readonly (readonly Change[])[];
  /** Of the last line. */
  readonly link: string;
  /** Bytes of the lines that are whole; what follows was being written when the process ended. */
  readonly wholeBytes: number;
}

/** Begin and end of every line that has its line end. */
export function linesIn(bytes: Buffer): (readonly [number, number])[] {
  const lines: (readonly [number, number])[] = [];
  for (let begin = 0; ; ) {
    const end = bytes.indexOf(LINE_END, begin);
    if (end < 0) return lines;
    lines.push([begin, end]);
    begin = end + 1;
  }
}

/** A power cut may leave a block that was never written at the end of a file; no JSON text has a zero byte. */
function wasNeverWritten(bytes: Buffer): boolean {
  return bytes.includes(0);
}

function damaged(file: string, line: number, offset: number): StoreError {
  const where = `line ${line} of ${file} (byte ${offset}) is not what was written`;
  return new StoreError(
    'store_damaged',
    `${where}: the disk or another program changed it. Nothing was changed now. Take a copy of the folder, then recover: that keeps every record that was not sent and can still be read, and pulls the rest anew`,
  );
}

/** The first line is an object, every other one a list of changes. */
export function isHeader(text: Buffer): boolean {
  return text[0] === 0x7b;
}

export function checkHeader(file: string, text: Buffer): void {
  const { journal } = JSON.parse(text.toString('utf8')) as { journal?: unknown };
  if (journal === JOURNAL_VERSION) return;
  const known = `this program knows version ${JOURNAL_VERSION}`;
  throw new StoreError('store_newer', `${file} is of version ${String(journal)}, ${known}: use the newer program`);
}

/**
 * Every commit of a journal. A line without its line end was being written when the process died, so nobody was told
 * that it is stored: it is left out. Any other line that is not what was written is damage, and is not passed over.
 */
export function readJournal(file: string, bytes: Buffer): Journal {
  const commits: (readonly Change[])[] = [];
  let link = NO_LINK;
  let wholeBytes = 0;
  const lines = linesIn(bytes);
  for (const [at, [begin, end]] of lines.entries()) {
    const line = readLine(link, bytes.subarray(begin, end));
    const isLast = at === lines.length - 1;
    if (!line.right && isLast && wasNeverWritten(bytes.subarray(begin))) break;
    if (!line.right) throw damaged(file, at + 1, begin);
    if (at === 0) checkHeader(file, line.text);
    else commits.push(changesIn(line.text));
    link = line.link;
    wholeBytes = end + 1;
  }
  // A journal takes its name only when it is whole, so it is never without its first line.
  if (wholeBytes === 0) throw damaged(file, 1, 0);
  // A line end that was changed into something else makes the last two lines one, or the last one look cut.
  const rest = bytes.subarray(wholeBytes);
  if (rest.length > 1 && readLine(link, rest.subarray(0, -1)).right) throw damaged(file, lines.length + 1, wholeBytes);
  return { commits, link, wholeBytes };
}
