import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { plainJsonText } from './plain-json-text.ts';

/** Nothing in the feed: the XOR of no rows. */
export const NO_ROWS = '0000000000000000';

/** The RFC 8785 text of a record: the same bytes wherever it is computed. */
export function canonicalText(value: unknown): string {
  const text = plainJsonText(value) ?? canonicalize(value);
  if (text === undefined)
    throw new TypeError('only JSON values have a canonical text; undefined or a function was given');
  return text;
}

/** The first 64 bits of the SHA-256 of a canonical text, as 16 hexadecimal digits. */
export function rowHash(canonical: string): string {
  return bytesToHex(sha256(utf8ToBytes(canonical))).slice(0, 16);
}

/**
 * The content hash of a feed is the XOR of the row hashes of its live records: adding a row and taking it away are the
 * same step, so it is kept up to date without reading the feed. It finds accidents, not attackers.
 */
export function xorHash(a: string, b: string): string {
  return ((BigInt(`0x${a}`) ^ BigInt(`0x${b}`)) & 0xffffffffffffffffn).toString(16).padStart(16, '0');
}
