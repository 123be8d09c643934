import type { FieldMap, OutputRef } from '@pothos/core';
import type { KindDefinition } from '../../protocol/kind.ts';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { RELATIONS, type RecordRelation, relation } from '../../store/read/record-relations.ts';
import type { RecordRow } from '../../store/read/record-states.ts';
import type { DoorTypes } from './builder.ts';
import { listCost, listUnder, STATEMENT_COST } from './connections.ts';
import { RECORD_FIELDS } from './record-interface.ts';
import { fieldsOf, type ShapeField } from './shapes.ts';
import { pascal } from './type-names.ts';
import type { GraphTypes } from './types.ts';
import { describe, givenOut } from './value-types.ts';

type FieldBuilder = PothosSchemaTypes.ObjectFieldBuilder<DoorTypes, RecordRow>;

function joined(parts: readonly FieldMap[]): FieldMap {
  return Object.fromEntries(parts.flatMap((part) => Object.entries(part)));
}

/** The kind that a field names a record of; null where it may be of several. */
function referred(kind: KindDefinition, field: string): string | null {
  const named = (kind.references as Readonly<Record<string, string>>)[field];
  return named ?? kindNamed(field)?.name ?? null;
}

/** A reference is given both ways: `wellId` costs nothing, `well` is the record itself. */
function referenceFields(t: FieldBuilder, types: GraphTypes, kind: KindDefinition, field: ShapeField) {
  const target = referred(kind, field.name);
  const idOf = (row: RecordRow) => row.state.fields[field.name] as string | undefined;
  return {
    [`${field.name}Id`]: t.id({ nullable: true, resolve: (row) => idOf(row) ?? null }),
    [field.name]: t.field({
      type: target === null ? types.record : types.ofKind(target),
      nullable: true,
      ...describe(field),
      resolve: (row, _args, g) => g.reads.record(idOf(row), target),
    }),
  };
}

function valueField(t: FieldBuilder, types: GraphTypes, kind: KindDefinition, field: ShapeField) {
  const made = t.field({
    type: types.values.output(field, pascal(kind.name)) as OutputRef<unknown>,
    nullable: !field.required,
    ...describe(field),
    resolve: (row) => givenOut(row.state.fields[field.name], field),
  });
  return { [field.name]: made };
}

function ownFields(t: FieldBuilder, types: GraphTypes, kind: KindDefinition) {
  const own = fieldsOf(kind.fields).filter((field) => !RECORD_FIELDS.includes(field.name));
  return joined(
    own.map((field) =>
      field.shape.type === 'ID' ? referenceFields(t, types, kind, field) : valueField(t, types, kind, field),
    ),
  );
}

function known(name: string): KindDefinition {
  const kind = kindNamed(name);
  if (!kind) throw new Error(`a relation is of the unknown kind ${name}`);
  return kind;
}

const OF_VISIT = 'about the visit and about all that was recorded on it: purges, readings, levels, set-ups';
const OF_EVENT =
  'in the feed of the event, of every standing. What is about a device, a unit or a well lives with that record: ' +
  'see it there, or in the list of the firm';

/** Lists whose name does not say how far they reach. */
const REACH: Readonly<Record<string, string>> = {
  'visit allFlags': `The flags ${OF_VISIT}`,
  'visit allConflicts': `The conflicts ${OF_VISIT}`,
  'event allFlags': `The flags ${OF_EVENT}`,
  'event allConflicts': `The conflicts ${OF_EVENT}`,
};

function reach({ of, name }: RecordRelation): { description?: string } {
  const description = REACH[`${of} ${name}`];
  return description === undefined ? {} : { description };
}

function listField(t: FieldBuilder, types: GraphTypes, of: RecordRelation) {
  const kind = known(of.kind);
  const made = t.field({
    type: types.connectionOf(kind.name),
    args: types.argsOf(kind.name),
    ...reach(of),
    complexity: listCost,
    resolve: (row, args, g) => listUnder(g, kind, of, row.id, args),
  });
  return { [of.name]: made };
}

interface Single {
  readonly of: string;
  readonly list: string;
  readonly name: string;
  readonly end: 'first' | 'last';
  readonly description: string;
}

/** The one record of a list that is asked for most. */
const SINGLES: readonly Single[] = [
  { of: 'purge', list: 'assessments', name: 'assessment', end: 'first', description: 'What the server makes of it' },
  { of: 'purge', list: 'calls', name: 'call', end: 'last', description: 'The latest call of a person' },
];

function singleField(t: FieldBuilder, types: GraphTypes, single: Single) {
  const of = relation(single.of, single.list);
  const kind = known(of.kind);
  const made = t.field({
    type: types.ofKind(kind.name),
    nullable: true,
    complexity: STATEMENT_COST,
    description: single.description,
    resolve: async (row, _args, g) => {
      const { edges } = await listUnder(g, kind, of, row.id, { [single.end]: 1 });
      return edges[0]?.node ?? null;
    },
  });
  return { [single.name]: made };
}

/** The object type of a kind: its fields, the records that it names, and the lists of those that belong to it. */
export function implementKind(types: GraphTypes, kind: KindDefinition): void {
  const relations = RELATIONS.filter((one) => one.of === kind.name);
  types.builder.objectType(types.ofKind(kind.name), {
    description: kind.description,
    interfaces: [types.record, types.builder.nodeInterfaceRef()],
    fields: (t) => ({
      id: t.exposeID('id'),
      ...ownFields(t, types, kind),
      ...joined(relations.map((one) => listField(t, types, one))),
      ...joined(SINGLES.filter(({ of }) => of === kind.name).map((one) => singleField(t, types, one))),
    }),
  });
}
