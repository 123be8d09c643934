import type { FastifyInstance } from 'fastify';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { jsonDepth } from '../../protocol/read-mutation.ts';
import { fieldGivenTwice } from './twice-given.ts';

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: false });

function textOf(bytes: Buffer): string {
  try {
    return utf8.decode(bytes);
  } catch {
    throw new Problem('unreadable_text', 'the body is not UTF-8');
  }
}

function parse(text: string): unknown {
  const depth = jsonDepth(text);
  if (depth > LIMITS.jsonDepth) {
    const detail = `the body is nested ${depth} deep; the limit is jsonDepth ${LIMITS.jsonDepth}`;
    throw new Problem('too_deep', detail, { limit: 'jsonDepth' });
  }
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new Problem('unreadable_json', error instanceof Error ? error.message : 'the body is not JSON');
  }
}

function refuse(pointer: string, why: string): never {
  throw new Problem('unreadable_record', `${pointer || '/'} ${why}`, { pointer });
}

function isText(value: string): boolean {
  return value.isWellFormed() && !value.includes('\0');
}

/** What JSON can say and no field can hold, wherever it stands. */
function checkValues(value: unknown, pointer: string): void {
  if (typeof value === 'number' && !Number.isFinite(value)) refuse(pointer, 'is a number beyond what can be kept');
  if (typeof value === 'string' && !isText(value)) {
    refuse(pointer, 'holds NUL or half of a surrogate pair, which no database can give back unchanged');
  }
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value)) {
    const at = `${pointer}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`;
    if (key === '__proto__' || !isText(key)) refuse(at.toWellFormed().replaceAll('\0', '?'), 'is not a known field');
    checkValues(inner, at);
  }
}

/**
 * Reads a body of JSON. Depth is counted before the text is parsed; two fields of one name, numbers that overflow and
 * text that no database keeps are refused by name, where JSON.parse would let them through changed.
 *
 * @returns undefined for no body
 */
export function readJsonBody(bytes: Buffer): unknown {
  if (bytes.length === 0) return undefined;
  const text = textOf(bytes);
  const value = parse(text);
  const twice = fieldGivenTwice(text);
  if (twice !== null) refuse(twice, 'is given twice');
  checkValues(value, '');
  return value;
}

/** Every body of the instance is JSON and is read so. */
export function readJsonBodies(app: FastifyInstance): void {
  app.removeContentTypeParser('text/plain');
  app.addContentTypeParser('*', (request, _payload, done) => {
    const given = JSON.stringify(request.headers['content-type']?.slice(0, 80) ?? null);
    done(new Problem('unsupported_media', `the content type is ${given}; this door takes application/json`));
  });
  app.addContentTypeParser('application/json', { parseAs: 'buffer' }, (_request, payload, done) => {
    try {
      done(null, readJsonBody(payload as Buffer));
    } catch (error) {
      done(error as Error, undefined);
    }
  });
}
