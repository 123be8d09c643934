import type { z } from 'zod';
import { type Path, readBeyond, valueAt, without } from '../protocol/beyond-shape.ts';
import type { KindDefinition } from '../protocol/kind.ts';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import type { Fields } from '../protocol/read-mutation.ts';
import type { RecordState } from '../protocol/record.ts';

const known = new WeakMap<RecordState, RecordState>();

/** Where a value stands that is not of the form asked for; what is missing there is not what can be left out. */
function removable(issue: z.core.$ZodIssue, fields: Fields): Path[] {
  if (issue.code === 'unrecognized_keys') return [];
  const missing = valueAt(fields, issue.path) === undefined;
  const path = missing ? issue.path.slice(0, -1) : issue.path;
  return path.length === 0 ? [] : [path];
}

function isOptional(kind: KindDefinition, [field]: Path): boolean {
  const schema = (kind.fields.shape as Readonly<Record<string, z.ZodType | undefined>>)[String(field)];
  return schema?.safeParse(undefined).success ?? false;
}

function readableFields(kind: KindDefinition, given: Fields): Fields {
  for (let fields = given; ; ) {
    const issues = kind.fields.safeParse(fields).error?.issues ?? [];
    const bad = issues.flatMap((issue) => removable(issue, fields));
    const path = bad.find((one) => one.length > 1 || isOptional(kind, one));
    if (path === undefined) return fields;
    fields = without(fields, path) as Fields;
  }
}

/**
 * A record as the rules may look at it. A field that a newer phone filled in before this version knew it was kept
 * without being looked at; where it is not of the form that it has by now, it counts as missing. Nothing else can be so,
 * since every other value was read when it came. The record itself keeps what it says.
 */
export function readable(state: RecordState): RecordState {
  const before = known.get(state);
  if (before) return before;
  const kind = kindNamed(state.kind);
  const fields = kind ? readableFields(kind, state.fields) : state.fields;
  const found = fields === state.fields ? state : { ...state, fields };
  known.set(state, found);
  return found;
}

/**
 * A record whose fields were just read: those that are known have the forms that they have here, and what is not known is
 * looked at by nobody.
 */
export function noteReadable(state: RecordState): void {
  known.set(state, state);
}

/** Whether a value that a field had once is of the form that the field has by now. */
export function wasReadable({ kind: name }: RecordState, field: string, value: unknown): boolean {
  const shape = kindNamed(name)?.fields.shape as Readonly<Record<string, z.ZodType | undefined>> | undefined;
  const schema = shape?.[field];
  return schema === undefined || 'beyond' in readBeyond(schema, value);
}
