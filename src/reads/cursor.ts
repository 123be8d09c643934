import { createHmac, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';

/** A place in a feed, for one reader, in one epoch, with what the history was there. */
export interface Cursor {
  readonly epoch: string;
  readonly feed: string;
  readonly seq: number;
  readonly reader: string;
  /** The first 8 bytes of the history hash at the place up to which it counts, in hexadecimal digits. */
  readonly history: string;
  /**
   * Where the feed ended when this reader began it from nothing, while the reader is not there yet. What was gone by then
   * it never had, so no row that says so is of use to it, and it does not matter which of them are kept.
   */
  readonly begun?: number;
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
  b: z.int().min(1).optional(),
  m: z.literal(1).optional(),
});

const MAC_BYTES = 16;

function mac(key: Buffer, body: string): Buffer {
  return createHmac('sha256', key).update(body).digest().subarray(0, MAC_BYTES);
}

/** An opaque, signed text. */
export function writeCursor(key: Buffer, cursor: Cursor): string {
  const { epoch, feed, seq, reader, history, begun, more = false } = cursor;
  const place = { v: 1, e: epoch, f: feed, s: seq, r: reader, h: history };
  const members = { ...place, ...(begun === undefined ? {} : { b: begun }), ...(more ? { m: 1 } : {}) };
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
  const { b: begun, m: more } = fields;
  const cursor = { epoch: fields.e, feed: fields.f, seq: fields.s, reader: fields.r, history: fields.h };
  return { ...cursor, ...(begun === undefined ? {} : { begun }), ...(more === 1 ? { more: true } : {}) };
}

/** The place up to which a cursor counts: its history is that one's, and no row before it is missed where it is gone. */
export function placeOf({ seq, begun = 0 }: Pick<Cursor, 'seq' | 'begun'>): number {
  return Math.max(seq, begun);
}

/** What a phone says that it has seen: it deceives only itself. Null for a text that is no cursor. */
export function seenPlace(
  text: string,
): (Pick<Cursor, 'epoch' | 'feed' | 'history'> & { readonly seq: number }) | null {
  const [body = ''] = text.split('.');
  const fields = parse(body);
  if (!fields) return null;
  const { e: epoch, f: feed, h: history, s: seq, b: begun } = fields;
  if (!/^[a-z0-9:-]{1,100}$/.test(feed)) return null;
  return { epoch, feed, history, seq: placeOf({ seq, ...(begun === undefined ? {} : { begun }) }) };
}

function numberOr0(value: unknown): number {
  return Number.isSafeInteger(value) ? Number(value) : 0;
}

/** What a cursor says of itself. */
export interface Claim {
  readonly seq: number;
  readonly begun: number;
  readonly more: boolean;
}

/** What a cursor says of itself, without believing it yet. */
export function claimOf(text: string): Claim {
  const [body] = text.split('.');
  try {
    const { s, b, m } = JSON.parse(Buffer.from(body ?? '', 'base64url').toString('utf8')) as Record<string, unknown>;
    return { seq: numberOr0(s), begun: numberOr0(b), more: m === 1 };
  } catch {
    return { seq: 0, begun: 0, more: false };
  }
}
