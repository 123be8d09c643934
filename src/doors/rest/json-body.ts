import type { FastifyInstance } from 'fastify';
import { brokenJson } from '../../protocol/broken-json.ts';
import { jsonShape } from '../../protocol/json-shape.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { fieldGivenTwice } from '../../protocol/twice-given.ts';
import { checkValues, unreadableAt } from '../check-values.ts';
import { refuseOtherContentTypes } from '../other-content-types.ts';

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: false });

function textOf(bytes: Buffer): string {
  try {
    return utf8.decode(bytes);
  } catch {
    throw new Problem('unreadable_text', 'the body is not UTF-8');
  }
}

function parse(text: string): unknown {
  const { depth } = jsonShape(text);
  if (depth > LIMITS.jsonDepth) {
    const detail = `the body is nested ${depth} deep; the limit is jsonDepth ${LIMITS.jsonDepth}`;
    throw new Problem('too_deep', detail, { limit: 'jsonDepth' });
  }
  try {
    return JSON.parse(text) as unknown;
  } catch {
    throw new Problem('unreadable_json', `the body is no JSON: ${brokenJson(text) ?? 'it cannot be read'}`);
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
  if (twice !== null) throw unreadableAt(twice, 'is given twice');
  checkValues(value, '');
  return value;
}

/** Every body of the instance is JSON and is read so. */
export function readJsonBodies(app: FastifyInstance): void {
  app.removeContentTypeParser('text/plain');
  refuseOtherContentTypes(app, 'application/json');
  app.addContentTypeParser('application/json', { parseAs: 'buffer' }, (_request, payload, done) => {
    try {
      done(null, readJsonBody(payload as Buffer));
    } catch (error) {
      done(error as Error, undefined);
    }
  });
}
