import { createHash, randomBytes } from 'node:crypto';
import { plainEnrolmentCode } from '../protocol/enrolment-code.ts';

/**
 * Digits and letters without I, L, O and U (the alphabet of Crockford's base 32): what is easily taken for another sign
 * is none, and who types it all the same is understood.
 */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * Ten signs of 32 are 50 bits, two groups of five that can be read aloud at the roadside. What that is worth: wrong
 * guesses are bounded to 600 a minute in a process (doors/wrong-guesses.ts). A firm of a hundred phones that all wait for their code
 * leaves a guesser, within the 15 minutes of a code, 9,000 guesses at 100 of 2^50 codes: a chance of 8e-10; who guesses
 * day and night for a year, 3e-5, and is seen by all who are told to wait. Whoever steals the table of codes can find
 * one by trying out SHA-256, but not within its quarter of an hour on less than a hundred machines of today.
 */
const SIGNS = 10;

const GROUP = 5;

/** 15 minutes: common practice, no source. Long enough for a call on a bad line. */
export const CODE_MINUTES = 15;
/** A day: for a phone that is set up the evening before. */
export const MOST_CODE_MINUTES = 1_440;

export function newEnrolmentCode(random: (count: number) => Uint8Array = randomBytes): string {
  const signs = [...random(SIGNS)].map((byte) => ALPHABET[byte & 31] ?? '').join('');
  return `${signs.slice(0, GROUP)}-${signs.slice(GROUP)}`;
}

/**
 * The code as it was made, however it was typed: in small letters, with spaces, with O for 0, I or L for 1.
 *
 * @returns null for what cannot be a code
 */
export function readEnrolmentCode(typed: string): string | null {
  const signs = plainEnrolmentCode(typed);
  return signs.length === SIGNS && [...signs].every((sign) => ALPHABET.includes(sign)) ? signs : null;
}

/** @param code as `readEnrolmentCode` gives it */
export function enrolmentHash(code: string): Buffer {
  return createHash('sha256').update(`enrolment ${code}`).digest();
}
