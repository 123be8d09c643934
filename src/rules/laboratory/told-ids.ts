import { hmac } from '@noble/hashes/hmac.js';
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

const VERSION_8 = 0x80;
const VARIANT = 0x80;

/**
 * The id under which a laboratory knows a record: a UUID of version 8 (RFC 9562) out of a keyed hash. The ids of records carry
 * the time at which they were made, which would put a blind duplicate beside its parent; this one says nothing, is the same
 * whenever it is asked for, and is another one for each laboratory.
 *
 * @param secret of the firm, at least 32 bytes
 */
export function toldId(secret: Uint8Array, laboratory: string, record: string): string {
  const bytes = hmac(sha256, secret, utf8ToBytes(`told\n${laboratory}\n${record}`)).slice(0, 16);
  bytes[6] = VERSION_8 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = VARIANT | ((bytes[8] ?? 0) & 0x3f);
  const hex = bytesToHex(bytes);
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** Digits and letters that nobody takes for one another when they are read out. */
const SPOKEN = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const SPOKEN_LENGTH = 8;

/**
 * By what both sides of a telephone call name the same record, whose id is another on each side: eight characters out of a
 * keyed hash, such as 7K2M-Q09X. It says no more than its told id, and two of one event are alike once in a million million.
 *
 * @param secret of the firm, at least 32 bytes
 */
export function spokenReference(secret: Uint8Array, record: string): string {
  const bytes = hmac(sha256, secret, utf8ToBytes(`spoken\n${record}`));
  const letters = [...bytes.slice(0, SPOKEN_LENGTH)].map((byte) => SPOKEN[byte % SPOKEN.length]).join('');
  return `${letters.slice(0, 4)}-${letters.slice(4)}`;
}
