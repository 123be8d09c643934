import type { z } from 'zod';
import { oddName, readBeyond, unstorable } from './beyond-shape.ts';
import { brokenJson } from './broken-json.ts';
import type { Code } from './codes.ts';
import { issueWords } from './issue-words.ts';
import { jsonShape, membersOf } from './json-shape.ts';
import type { KindDefinition } from './kind.ts';
import { kindNamed } from './kinds-by-name.ts';
import type { Given } from './lenses/lens.ts';
import { lift } from './lenses/lift.ts';
import { LIMITS } from './limits.ts';
import { type Mutation, mutation as mutationSchema } from './mutation.ts';
import { keepsItsNumbers } from './storable.ts';
import { fieldGivenTwice } from './twice-given.ts';
import { VERSIONS, type Versions } from './version.ts';

export type Fields = Readonly<Record<string, unknown>>;

/** A mutation that can be read as one: its kind is known and its fields have the form that the kind asks for. */
export interface ReadMutation {
  readonly mutation: Mutation;
  readonly kind: KindDefinition;
  /** The fields set; null clears one. */
  readonly fields: Fields;
}

export interface Unreadable {
  readonly code: Code;
  readonly detail: string;
  readonly pointer?: string;
}

function pointerOf(path: readonly PropertyKey[]): string {
  return path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

function shortly(value: unknown): string {
  const text = typeof value === 'string' ? JSON.stringify(value) : String(JSON.stringify(value));
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}

function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (value, part) => (typeof value === 'object' && value !== null ? Reflect.get(value, part) : undefined),
    root,
  );
}

/** Says what the first fault of a parse is: the field, what was given, and what it may hold. */
export function firstFault(error: z.ZodError, given: unknown, at: string): Unreadable {
  const issue = error.issues[0];
  const path = issue?.path ?? [];
  const unknown = issue?.code === 'unrecognized_keys' ? issue.keys[0] : undefined;
  const pointer = at + pointerOf(unknown === undefined ? path : [...path, unknown]);
  if (unknown !== undefined) return { code: 'unreadable_record', pointer, detail: `${pointer} is not a known field` };
  const value = valueAt(given, path);
  const was = value === undefined ? 'is missing' : `was ${shortly(value)}`;
  return {
    code: 'unreadable_record',
    pointer,
    detail: `${pointer || '/'} ${was}: ${issue ? issueWords(issue) : 'not readable'}`,
  };
}

const partialOf = new WeakMap<KindDefinition, z.ZodType>();

/** The fields of a kind as an amendment may set them: any of them; null only where the field may be missing. */
function amendable(kind: KindDefinition): z.ZodType {
  const known = partialOf.get(kind) ?? kind.fields.partial();
  partialOf.set(kind, known);
  return known;
}

function parseFields(schema: z.ZodType, set: unknown): Fields | Unreadable {
  const parsed = schema.safeParse(set ?? {});
  return parsed.success ? (parsed.data as Fields) : firstFault(parsed.error, set ?? {}, '/set');
}

export function isUnreadable(value: object): value is Unreadable {
  return 'code' in value && 'detail' in value;
}

/** Reads fields as an amendment may set them. */
export function readSet(kind: KindDefinition, set: unknown): Fields | Unreadable {
  return parseFields(amendable(kind), set);
}

/** How the fields of a kind are read; those of a newer version with what is not known here. */
type FieldReader = (schema: z.ZodType, set: unknown) => Fields | Unreadable;

function readFields(kind: KindDefinition, given: Mutation, reader: FieldReader): Fields | Unreadable {
  switch (given.verb) {
    case 'record':
      return reader(kind.fields, given.set);
    case 'amend':
      return reader(amendable(kind), given.set);
    case 'rehome':
      // it moves a record with all under it: more than is known here must not be passed over
      return readSet(kind, given.set);
    default:
      return given.set ?? {};
  }
}

function readObject(given: unknown, reader: FieldReader): ReadMutation | Unreadable {
  const parsed = mutationSchema.safeParse(given);
  if (!parsed.success) return firstFault(parsed.error, given, '');
  const kind = kindNamed(parsed.data.kind);
  if (parsed.data.verb === 'release') return { mutation: parsed.data, kind: RELEASE, fields: {} };
  if (!kind) return { code: 'unknown_kind', pointer: '/kind', detail: `${shortly(parsed.data.kind)} is not a kind` };
  if (kind.family === 'derived' && parsed.data.verb !== 'resolve') {
    return { code: 'derived', pointer: '/kind', detail: `${kind.name} is derived by the server` };
  }
  const fields = readFields(kind, parsed.data, reader);
  return isUnreadable(fields) ? fields : { mutation: parsed.data, kind, fields };
}

function notKept(path: readonly PropertyKey[], why: string): Unreadable {
  const pointer = `/set${pointerOf(path)}`;
  return { code: 'newer_server_needed', pointer, detail: `${pointer} ${why}` };
}

/** Fields as a newer version wrote them. @param line to look at the numbers as they were written */
function newerFields(line: string): FieldReader {
  return (schema, set) => {
    const read = readBeyond(schema, set ?? {});
    if (!('beyond' in read)) return firstFault(read, set ?? {}, '/set');
    const bad = unstorable(read);
    if (bad) return notKept(bad, 'holds what nothing can give back');
    const odd = oddName(read.beyond);
    if (odd) return notKept(odd, 'is no name of a field');
    if (read.beyond.length === 0 || keepsItsNumbers(line)) return read.value as Fields;
    return notKept([], 'has fields unknown here, and numbers that would not come back sign for sign');
  };
}

/** What a newer version means by what cannot be read here, a newer server knows. */
function readNewer(given: unknown, line: string, version: number, own: number): ReadMutation | Unreadable {
  const read = readObject(given, newerFields(line));
  if (!isUnreadable(read)) return read;
  const detail = `written by version ${version}, newer than version ${own} of this server: ${read.detail}`;
  return { ...read, code: 'newer_server_needed', detail };
}

function readOlder(given: unknown, version: number, { own, minimum, lenses }: Versions): ReadMutation | Unreadable {
  if (version < minimum) {
    const detail = `written by version ${version}; version ${minimum} is the oldest that is taken: update the app`;
    return { code: 'version_too_old', detail };
  }
  const isObject = typeof given === 'object' && given !== null && !Array.isArray(given);
  return readObject(isObject ? lift(given as Given, version, own, lenses) : given, parseFields);
}

const PROTO = '__proto__';

/**
 * Where a field is called __proto__: zod passes over it in a record of any fields, so what it says would be lost
 * without a word. @returns a JSON Pointer, or null
 */
function protoIn(value: unknown, at: string): string | null {
  if (typeof value !== 'object' || value === null) return null;
  if (Object.hasOwn(value, PROTO)) return `${at}/${PROTO}`;
  for (const [name, inner] of Object.entries(value)) {
    const found = protoIn(inner, at + pointerOf([name]));
    if (found !== null) return found;
  }
  return null;
}

/** The name itself, or letters of it in the other form that JSON has for them. */
const MAY_NAME_PROTO = /__proto__|\\u00[5-7]/;

/** `release` cites something set aside, which is not a record and has no kind. */
const RELEASE = { name: 'set-aside', family: 'derived' } as KindDefinition;

function givenTwice(line: string): Unreadable {
  const pointer = fieldGivenTwice(line) ?? '';
  return { code: 'unreadable_record', pointer, detail: `${pointer} is given twice; give one value` };
}

/**
 * Reads one line of a push.
 *
 * @param version of the shapes that it was written in, as the header of the push says
 * @param versions what this reader understands
 */
export function readMutation(line: string, version?: number, versions: Versions = VERSIONS): ReadMutation | Unreadable {
  const { depth, members } = jsonShape(line);
  if (depth > LIMITS.jsonDepth) {
    return { code: 'too_deep', detail: `nested ${depth} deep; the limit is jsonDepth ${LIMITS.jsonDepth}` };
  }
  let given: unknown;
  try {
    given = JSON.parse(line);
  } catch {
    return { code: 'unreadable_json', detail: `not JSON: ${brokenJson(line) ?? 'it cannot be read'}` };
  }
  // what JSON.parse left out without a word would be lost
  if (members !== membersOf(given)) return givenTwice(line);
  const proto = MAY_NAME_PROTO.test(line) ? protoIn(given, '') : null;
  if (proto !== null) return { code: 'unreadable_record', pointer: proto, detail: `${proto} is not a known field` };
  if (version === undefined || version === versions.own) return readObject(given, parseFields);
  return version > versions.own ? readNewer(given, line, version, versions.own) : readOlder(given, version, versions);
}
