import { z } from 'zod';
import type { FetchLike } from './fetch-like.ts';
import { noAnswer, problemOf } from './problem.ts';
import type { Answer } from './transport.ts';

const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const SECRET_BYTES = 32;

/** Base64 for addresses (RFC 4648, 5), without padding. */
function base64Url(bytes: Uint8Array): string {
  let [text, bits, held] = ['', 0, 0];
  for (const byte of bytes) {
    held = (held << 8) | byte;
    bits += 8;
    for (; bits >= 6; bits -= 6) text += SIGNS[(held >> (bits - 6)) & 63];
    held &= (1 << bits) - 1;
  }
  return bits === 0 ? text : text + SIGNS[(held << (6 - bits)) & 63];
}

/**
 * The secret of a token, made on the phone: keep it before it is sent, so that an answer that is lost, or a phone that
 * dies meanwhile, costs nothing but to ask again.
 *
 * @param randomBytes of a source that nobody can foresee
 */
export function newTokenSecret(randomBytes: (count: number) => Uint8Array): string {
  return `wrt_${base64Url(randomBytes(SECRET_BYTES))}`;
}

export interface EnrolLine {
  /** Where the API is, without `/v1`. */
  readonly base: string;
  readonly fetch: FetchLike;
}

export interface Enrolling {
  /** As it was read out; capitals, spaces and hyphens do not matter. */
  readonly code: string;
  /** What the phone calls itself; as the office called it if missing. */
  readonly label?: string | undefined;
  /** Of `newTokenSecret`; the same for every try with this code. */
  readonly secret: string;
}

export interface Enrolled {
  /** The id of the token; the secret is the one that was sent. */
  readonly token: string;
  readonly role: string;
  readonly device: string | null;
}

const enrolled = z.looseObject({ token: z.string(), role: z.string(), device: z.string().nullable() });

function read(text: string): Answer<Enrolled> {
  try {
    return { ok: true, value: enrolled.parse(JSON.parse(text)) };
  } catch {
    return noAnswer('the answer was cut, or is not that of such a server');
  }
}

/**
 * Puts this phone under a token. Without an answer it is not known whether the code was used: ask again with the same
 * secret. `enrolment_refused` is final: the code was mistyped, or another is needed.
 */
export async function enrol({ base, fetch }: EnrolLine, enrolling: Enrolling): Promise<Answer<Enrolled>> {
  const { code, label, secret } = enrolling;
  const headers = { 'content-type': 'application/json', accept: 'application/json' };
  const request = { method: 'POST' as const, headers, body: JSON.stringify({ code, label, secret }) };
  try {
    const response = await fetch(`${base.replace(/\/+$/, '')}/v1/enrol`, request);
    const text = await response.text();
    return response.status === 200 ? read(text) : problemOf(response, text);
  } catch (error) {
    return noAnswer(error instanceof Error ? error.message : String(error));
  }
}
