import type { z } from 'zod';
import { issueWords } from '../protocol/issue-words.ts';
import { type KindDefinition, mayNameOtherParent } from '../protocol/kind.ts';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import { LocalError } from './local-error.ts';

export type Fields = Readonly<Record<string, unknown>>;

export function kindOrError(name: string): KindDefinition {
  const kind = kindNamed(name);
  if (!kind) throw new LocalError('unknown_kind', `there is no kind of record called "${name}"`);
  return kind;
}

export function writableKind(name: string): KindDefinition {
  const kind = kindOrError(name);
  if (kind.family !== 'derived') return kind;
  throw new LocalError('derived_kind', `a ${name} is written by the server only; nothing was stored`);
}

/** What will be on the line: undefined members are gone, as JSON has no such thing. */
function asJson(fields: Fields): Fields {
  return JSON.parse(JSON.stringify(fields)) as Fields;
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 60 ? `${text.slice(0, 60)}...` : text;
}

function at(fields: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], fields);
}

/** In our own words, as the server says it: a field, what is wrong with it, and what was given. */
function faultOf(name: string, value: unknown, issue: z.core.$ZodIssue): string {
  const words = issueWords(issue);
  const isSentence = words.startsWith('is ');
  if (value === undefined) return `${name} is missing${isSentence ? '' : `: ${words}`}`;
  return `${name} ${isSentence ? words : `cannot be read: ${words}`} (given: ${shown(value)})`;
}

interface Fault {
  readonly path: readonly PropertyKey[];
  readonly says: (name: string, value: unknown) => string;
}

function faultsOf(issue: z.core.$ZodIssue): readonly Fault[] {
  if (issue.code !== 'unrecognized_keys')
    return [{ path: issue.path, says: (name, value) => faultOf(name, value, issue) }];
  return issue.keys.map((key) => ({
    path: [...issue.path, key],
    says: (name, value) => `${name} is not a known field (given: ${shown(value)})`,
  }));
}

function unreadable(kind: string, fields: Fields, error: z.ZodError): LocalError {
  const faults = error.issues.flatMap(faultsOf);
  const said = faults.map(({ path, says }) => says([kind, ...path.map(String)].join('.'), at(fields, path)));
  const pointers = faults.map(({ path }) => `/${path.map(String).join('/')}`);
  return new LocalError('unreadable_fields', `${said.join('; ')}. Correct it and try again.`, pointers);
}

function checked(kind: KindDefinition, schema: z.ZodType, given: Fields): Fields {
  const fields = asJson(given);
  const parsed = schema.safeParse(fields);
  if (!parsed.success) throw unreadable(kind.name, fields, parsed.error);
  return fields;
}

/** All fields of a new record, as they will travel. Only the form is checked: no value is impossible in the field. */
export function checkAll(kind: KindDefinition, given: Fields): Fields {
  return checked(kind, kind.fields, given);
}

const partials = new Map<string, z.ZodType>();

/** The fields that a change touches; null clears one that may be missing. */
export function checkChanged(kind: KindDefinition, given: Fields): Fields {
  const schema = partials.get(kind.name) ?? kind.fields.partial();
  partials.set(kind.name, schema);
  const fields = checked(kind, schema, given);
  if (Object.keys(fields).length > 0) return fields;
  throw new LocalError('unreadable_fields', `no field of the ${kind.name} was given to change`);
}

/** As the server has it: a visit alone is moved, by the verb made for it, and everything under it goes along. */
export function checkAmended(kind: KindDefinition, given: Fields): Fields {
  const { home, name } = kind;
  const fixed =
    name === 'visit' ? ['well', 'event'] : home.in === 'parent' && !mayNameOtherParent(kind) ? [home.field] : [];
  const moved = fixed.find((field) => field in given);
  if (moved === undefined) return checkChanged(kind, given);
  const way = name === 'visit' ? 'use rehome, with a reason' : 'void it and record it where it belongs';
  throw new LocalError('home_fixed', `${moved} says where a ${name} belongs and is not amended: ${way}`, [`/${moved}`]);
}

export function checkRehomed(kind: KindDefinition, given: Fields): Fields {
  if (kind.name !== 'visit') {
    throw new LocalError('home_fixed', `a ${kind.name} moves with its visit: re-home that, or void and record it anew`);
  }
  const other = Object.keys(given).find((field) => field !== 'well' && field !== 'event');
  if (other === undefined) return checkChanged(kind, given);
  throw new LocalError('home_fixed', `rehome sets well, event or both, but ${other} was given`, [`/${other}`]);
}
