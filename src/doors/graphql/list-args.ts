import type { InputRef } from '@pothos/core';
import type { KindDefinition } from '../../protocol/kind.ts';
import { id as uuid } from '../../protocol/primitives.ts';
import { Problem } from '../../protocol/problem.ts';
import type { PageArgs } from '../../reads/page-args.ts';
import type { RecordList } from '../../reads/record-list.ts';
import { typedTable } from '../../store/read/record-order.ts';
import type { RecordRelation } from '../../store/read/record-relations.ts';
import type { Builder } from './builder.ts';
import { fieldsOf, type ShapeField } from './shapes.ts';
import { pascal } from './type-names.ts';
import type { ValueTypes } from './value-types.ts';

export type Args = Readonly<Record<string, unknown>>;

const FILTERS: readonly string[] = ['ID', 'enum', 'Boolean'];

/** The fields by which a list can be narrowed: references, choices and yes-or-no, as far as they are columns. */
function filtersOf(kind: KindDefinition): readonly ShapeField[] {
  const columns = typedTable(kind.name).fields;
  return fieldsOf(kind.fields).filter(({ name, shape }) => name in columns && FILTERS.includes(shape.type));
}

/** The arguments of a list of records of a kind. */
export function listArgs(builder: Builder, values: ValueTypes, kind: KindDefinition) {
  const name = pascal(kind.name);
  const where = builder.inputType(`${name}Filter`, {
    fields: (t) => ({
      includeVoided: t.boolean({ defaultValue: false, description: 'Also those that were taken out of the count' }),
      ...Object.fromEntries(
        filtersOf(kind).map((field) => [field.name, t.field({ type: values.input(field, name) as InputRef<unknown> })]),
      ),
    }),
  });
  return builder.args((t) => ({ ...t.connectionArgs(), where: t.field({ type: where }) }));
}

function equalTo(field: ShapeField, value: unknown): string | boolean {
  if (field.shape.type !== 'ID') return value as string | boolean;
  const parsed = uuid.safeParse(value);
  if (parsed.success) return parsed.data;
  throw new Problem('bad_request', `${field.name}: ${JSON.stringify(value).slice(0, 80)} is no id of a record`);
}

/** Which records are asked for. @throws Problem `bad_request` for an id that is none */
export function readList(kind: KindDefinition, relation: RecordRelation | null, args: Args): RecordList {
  const where = (args.where ?? {}) as Args;
  const given = filtersOf(kind).filter(({ name }) => where[name] !== undefined && where[name] !== null);
  const equal = Object.fromEntries(given.map((field) => [field.name, equalTo(field, where[field.name])]));
  return { kind: kind.name, relation, equal, includeVoided: where.includeVoided === true };
}

export function readPage(args: Args): PageArgs {
  const { first, after, last, before } = args as PageArgs;
  return { first, after, last, before };
}
