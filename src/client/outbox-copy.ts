import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { z } from 'zod';
import { id } from '../protocol/primitives.ts';
import { MOST_SEEN, seenCursor } from '../protocol/sync.ts';
import { LocalError } from './local-error.ts';

/** One line of an outbox as it travels between phones. */
export interface CopiedLine {
  readonly client: string;
  readonly mutationId: number;
  readonly captured: string;
  readonly line: string;
  /** Of the shapes in which it was captured; 1 where it is missing. */
  readonly schemaVersion?: number | undefined;
  /** What the screen showed of the fields that it changes; missing in copies made before this was told. */
  readonly was?: Readonly<Record<string, unknown>> | null | undefined;
  /** Where it names a revision: cursors of the feeds of that record, which say in what history it was seen. */
  readonly seen?: readonly string[] | undefined;
}

const COPY_VERSION = 1;

const header = z.looseObject({ outboxCopy: z.int(), lines: z.int().min(0) });
const copiedLine = z.looseObject({
  client: id,
  mutationId: z.int().min(1),
  captured: z.string(),
  line: z.string(),
  schemaVersion: z.int().min(1).optional(),
  was: z.record(z.string(), z.unknown()).nullish().catch(undefined),
  seen: z.array(seenCursor).max(MOST_SEEN).optional().catch(undefined),
});

/** JSON with every sign beyond ASCII escaped: a byte is a sign, and no way of passing it on can spoil the encoding. */
function asciiJson(value: unknown): string {
  const escaped = (sign: string) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
  return JSON.stringify(value).replace(/[\u0080-\uffff]/g, escaped);
}

function asciiOf(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < bytes.length; at += 8_192) parts.push(String.fromCharCode(...bytes.subarray(at, at + 8_192)));
  return parts.join('');
}

function checkOf(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(text)));
}

/**
 * Newline-delimited JSON: a header, the lines, and the SHA-256 of all that before it. It goes from phone to phone by
 * whatever there is (a file, a cable, a radio), so it says by itself whether it came whole.
 */
export function copyBytes(made: string, lines: readonly CopiedLine[]): Uint8Array {
  const texts = [{ outboxCopy: COPY_VERSION, made, lines: lines.length }, ...lines].map(asciiJson);
  const text = `${texts.join('\n')}\n`;
  return utf8ToBytes(`${text}${JSON.stringify({ sha256: checkOf(text) })}\n`);
}

function unreadable(why: string): LocalError {
  return new LocalError('unreadable_copy', `${why}; nothing was taken. Have the other phone make the copy once more`);
}

function parsed<Value>(schema: z.ZodType<Value>, line: string | undefined): Value {
  try {
    return schema.parse(JSON.parse(line ?? ''));
  } catch {
    throw unreadable('this is no copy of an outbox, or a part of it was changed');
  }
}

/** Throws a LocalError where the copy is not what was made, to the byte. */
export function readCopy(bytes: Uint8Array): readonly CopiedLine[] {
  const whole = asciiOf(bytes);
  const end = whole.lastIndexOf('\n', whole.length - 2);
  const text = whole.slice(0, end + 1);
  const [first, ...lines] = text.split('\n').slice(0, -1);
  const { sha256: check } = parsed(z.looseObject({ sha256: z.string() }), whole.slice(end + 1));
  if (check !== checkOf(text)) throw unreadable('the copy of the outbox came damaged or cut');
  const { outboxCopy } = parsed(header, first);
  if (outboxCopy !== COPY_VERSION) {
    throw unreadable(`the copy is of version ${outboxCopy}, this app knows ${COPY_VERSION}: update the app`);
  }
  return lines.map((line) => parsed(copiedLine, line));
}
