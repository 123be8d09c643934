import { createHmac, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';

/** A place in a feed, for one reader, in one epoch, with what the history was there. */
export interface Cursor {
  readonly epoch: string;
  readonly feed: string;
  readonly seq: number;
  readonly reader: string;
  /** The first 8 bytes of the history hash at the place, in hexadecimal digits. */
  readonly history: string;
}

const payload = z.strictObject({
  v: z.literal(1),
  e: z.string(),
  f: z.string(),
  s: z.int().min(0),
  r: z.string(),
  h: z.string(),
});

const MAC_BYTES = 16;

function mac(key: Buffer, body: string): Buffer {
  return createHmac('sha256', key).update(body).digest().subarray(0, MAC_BYTES);
}

/** An opaque, signed text. */
export function writeCursor(key: Buffer, cursor: Cursor): string {
  const { epoch, feed, seq, reader, history } = cursor;
  const body = Buffer.from(JSON.stringify({ v: 1, e: epoch, f: feed, s: seq, r: reader, h: history })).toString(
    'base64url',
  );
  return `${body}.${mac(key, body).toString('base64url')}`;
}

function parse(body: string): z.output<typeof payload> | null {
  try {
    const parsed = payload.safeParse(JSON.parse(Buffer.from(body, 'base64url').toString('utf8')));
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}

/** @returns null where the text is no cursor of ours, or was signed with another key */
export function readCursor(key: Buffer, text: string): Cursor | null {
  const [body, signature, ...rest] = text.split('.');
  if (!body || !signature || rest.length > 0) return null;
  const given = Buffer.from(signature, 'base64url');
  const expected = mac(key, body);
  if (given.length !== expected.length || !timingSafeEqual(given, expected)) return null;
  const fields = parse(body);
  return fields && { epoch: fields.e, feed: fields.f, seq: fields.s, reader: fields.r, history: fields.h };
}
