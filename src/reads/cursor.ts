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
  /** The page that it was given with was full: whoever comes with it is catching up. */
  readonly more?: boolean;
}

const payload = z.strictObject({
  v: z.literal(1),
  e: z.string(),
  f: z.string(),
  s: z.int().min(0),
  r: z.string(),
  h: z.string(),
  m: z.literal(1).optional(),
});

const MAC_BYTES = 16;

function mac(key: Buffer, body: string): Buffer {
  return createHmac('sha256', key).update(body).digest().subarray(0, MAC_BYTES);
}

/** An opaque, signed text. */
export function writeCursor(key: Buffer, cursor: Cursor): string {
  const { epoch, feed, seq, reader, history, more = false } = cursor;
  const members = { v: 1, e: epoch, f: feed, s: seq, r: reader, h: history, ...(more ? { m: 1 } : {}) };
  const body = Buffer.from(JSON.stringify(members)).toString('base64url');
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
  if (!fields) return null;
  const cursor = { epoch: fields.e, feed: fields.f, seq: fields.s, reader: fields.r, history: fields.h };
  return fields.m === 1 ? { ...cursor, more: true } : cursor;
}

/** What a cursor says of itself, without believing it yet. */
export function claimOf(text: string): { readonly seq: number; readonly more: boolean } {
  const [body] = text.split('.');
  try {
    const { s, m } = JSON.parse(Buffer.from(body ?? '', 'base64url').toString('utf8')) as { s?: unknown; m?: unknown };
    return { seq: Number.isSafeInteger(s) ? Number(s) : 0, more: m === 1 };
  } catch {
    return { seq: 0, more: false };
  }
}
