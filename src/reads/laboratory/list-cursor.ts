import { createCipheriv, createDecipheriv, createHmac, randomBytes } from 'node:crypto';

/** Where the history of an event stood when a laboratory read its list. */
export interface ListPlace {
  readonly epoch: string;
  readonly laboratory: string;
  readonly event: string;
  /** Of the feeds of the event, of its site and of the firm. */
  readonly seqs: readonly [event: number, site: number, firm: number];
  /** History hash of the feed of the event there. */
  readonly history: Buffer;
}

const CIPHER = 'aes-256-gcm';
const IV_BYTES = 12;
const TAG_BYTES = 16;
const HISTORY_BYTES = 8;
const PLAIN_BYTES = 3 * 16 + 3 * 8 + HISTORY_BYTES;

function keyOf(secret: Buffer): Buffer {
  return createHmac('sha256', secret).update('list cursor').digest();
}

function uuidBytes(id: string): Buffer {
  return Buffer.from(id.replaceAll('-', ''), 'hex');
}

function uuidText(bytes: Buffer): string {
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

function plain({ epoch, laboratory, event, seqs, history }: ListPlace): Buffer {
  const places = Buffer.alloc(24);
  seqs.forEach((seq, at) => void places.writeBigUInt64BE(BigInt(seq), at * 8));
  const ids = [epoch, laboratory, event].map(uuidBytes);
  return Buffer.concat([...ids, places, history.subarray(0, HISTORY_BYTES)]);
}

/**
 * The place as a text that shows nothing: neither how much was recorded since another one nor that it is the same place. A
 * laboratory that could count the records between two cursors would see when a crew was at work, and on how many bottles.
 *
 * @param random chance: bytes that never come again
 */
export function writeListPlace(
  secret: Buffer,
  place: ListPlace,
  random: (count: number) => Buffer = randomBytes,
): string {
  const iv = random(IV_BYTES);
  const cipher = createCipheriv(CIPHER, keyOf(secret), iv);
  const hidden = Buffer.concat([cipher.update(plain(place)), cipher.final()]);
  return Buffer.concat([iv, hidden, cipher.getAuthTag()]).toString('base64url');
}

/** @returns null for a text that was not written with this secret, or that was changed */
export function readListPlace(secret: Buffer, text: string): ListPlace | null {
  const bytes = Buffer.from(text, 'base64url');
  if (bytes.length !== IV_BYTES + PLAIN_BYTES + TAG_BYTES) return null;
  const decipher = createDecipheriv(CIPHER, keyOf(secret), bytes.subarray(0, IV_BYTES));
  decipher.setAuthTag(bytes.subarray(-TAG_BYTES));
  try {
    const read = Buffer.concat([decipher.update(bytes.subarray(IV_BYTES, -TAG_BYTES)), decipher.final()]);
    const seq = (at: number) => Number(read.readBigUInt64BE(48 + at * 8));
    return {
      epoch: uuidText(read.subarray(0, 16)),
      laboratory: uuidText(read.subarray(16, 32)),
      event: uuidText(read.subarray(32, 48)),
      seqs: [seq(0), seq(1), seq(2)],
      history: read.subarray(72),
    };
  } catch {
    return null;
  }
}
