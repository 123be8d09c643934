import { z } from 'zod';
import { readBeyond } from '../../protocol/beyond-shape.ts';
import { brokenJson } from '../../protocol/broken-json.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { firstFault } from '../../protocol/read-mutation.ts';
import { type PushHeader, pushHeader } from '../../protocol/sync.ts';
import { SCHEMA_VERSION } from '../../protocol/version.ts';
import { seenPlace } from '../../reads/cursor.ts';
import type { Actor, Batch, Line } from '../../writes/batch.ts';

const NEWLINE = 0x0a;
const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function textOf(bytes: Buffer): string | null {
  try {
    return utf8.decode(bytes);
  } catch {
    return null;
  }
}

/** Cuts a body at its line ends. What follows the last one is a line that was cut on its way. */
function cut(body: Buffer): Buffer[] {
  const lines: Buffer[] = [];
  let from = 0;
  for (let end = body.indexOf(NEWLINE); end >= 0; end = body.indexOf(NEWLINE, from)) {
    lines.push(body.subarray(from, end));
    from = end + 1;
  }
  if (from === body.length) return lines;
  throw new Problem(
    'cut_short',
    `the last line has no line end after ${body.length - from} bytes: every line ends with one`,
  );
}

const versionIn = z.looseObject({ schemaVersion: pushHeader.shape.schemaVersion });

/** What a newer version says in its header besides is passed over: nothing of its lines depends on that. */
function headerOf(given: unknown): PushHeader | z.ZodError {
  const version = versionIn.safeParse(given);
  if (version.success && version.data.schemaVersion > SCHEMA_VERSION) {
    const read = readBeyond(pushHeader, given);
    return 'known' in read ? (read.known as PushHeader) : read;
  }
  const parsed = pushHeader.safeParse(given);
  return parsed.success ? parsed.data : parsed.error;
}

/** Nothing that is read before it is known what follows may be large. */
function checkHeaderSize(bytes: number): void {
  if (bytes <= LIMITS.pushHeaderBytes) return;
  const detail =
    `the first line has ${bytes} bytes; the limit is pushHeaderBytes ${LIMITS.pushHeaderBytes}. The first line of a push is its ` +
    'header (client, schemaVersion, first, count, sent); mutations stand on the lines after it, one each';
  throw new Problem('too_large', detail, { limit: 'pushHeaderBytes' });
}

function readHeader(bytes: Buffer | undefined): PushHeader {
  checkHeaderSize(bytes?.length ?? 0);
  const text = bytes ? textOf(bytes) : null;
  if (text === null) throw new Problem('unreadable_text', 'the first line is missing or not UTF-8');
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch {
    const why = brokenJson(text) ?? 'it cannot be read';
    throw new Problem('unreadable_json', `the first line of a push is its header, a JSON object: ${why}`);
  }
  const header = headerOf(given);
  if ('client' in header) return header;
  const { detail, pointer } = firstFault(header, given, '');
  throw new Problem('bad_request', `header of the push: ${detail}`, { pointer });
}

function checkLines(header: PushHeader, lines: readonly Buffer[]): void {
  if (lines.length > LIMITS.pushMutations) {
    const detail = `${lines.length} mutations; the limit is pushMutations ${LIMITS.pushMutations}`;
    throw new Problem('too_large', detail, { limit: 'pushMutations' });
  }
  if (lines.length === header.count) return;
  throw new Problem('cut_short', `the header announces ${header.count} mutations, ${lines.length} lines arrived`);
}

/** Reads the body of a push: a header line, then one mutation a line. */
export function readPush(body: Buffer, actor: Actor, carried: boolean): Batch {
  const [first, ...rest] = cut(body);
  const header = readHeader(first);
  checkLines(header, rest);
  const lines = rest.map((bytes): Line => ({ bytes, text: textOf(bytes), version: header.schemaVersion }));
  return {
    actor,
    client: header.client,
    first: header.first,
    lines,
    schemaVersion: header.schemaVersion,
    sent: header.sent ?? null,
    roundTripMs: header.roundTripMs ?? 0,
    unsent: header.pending ?? null,
    seen: (header.seen ?? []).map(seenPlace),
    oneShot: false,
    carried,
  };
}
